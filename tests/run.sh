#!/usr/bin/env bash
# Sets everything up, builds and runs every test. `tests/run.sh asan` does so under the sanitizers.
source "$(dirname "${BASH_SOURCE[0]}")/../cli/setup.sh"
preset=${1:-release}
# Ubuntu has the browser only as a snap, which containers cannot run; its tests are then passed over, and say so.
if grep -qi ubuntu /etc/os-release 2>/dev/null; then test_packages=(catch2 gdal-bin); fi
install_missing "${packages[@]}" "${test_packages[@]}"
build "$preset" all
ctest --preset "$preset" -j "$(nproc)"
