#!/usr/bin/env bash
# Sets everything up, then runs the demo yard as it is and with three drains.
source "$(dirname "${BASH_SOURCE[0]}")/setup.sh"
install_missing "${packages[@]}"
build release lowspot_cli
"$root/build/bin/lowspot" compare "$root/data/demo" --out "$root/out/demo"
