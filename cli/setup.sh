#!/usr/bin/env bash
# Installs what is missing and builds: sourced by cli/demo.sh and tests/run.sh. Does again only what is not done yet.
set -euo pipefail
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)

packages=(g++ cmake ninja-build pkg-config libeigen3-dev libboost-dev libboost-graph-dev libhdf5-dev libgdal-dev
          libcairo2-dev libpango1.0-dev libtomlplusplus-dev libcli11-dev nlohmann-json3-dev zlib1g-dev fonts-dejavu-core)
test_packages=(catch2 gdal-bin chromium)

# install_missing PACKAGE...: through apt, only those that are not there.
install_missing() {
  command -v dpkg-query >/dev/null || { echo "This set-up needs apt (Debian 12 or Ubuntu 24.04); elsewhere install: $*" >&2; return 1; }
  local missing=() name
  for name in "$@"; do
    dpkg-query -W -f='${Status}' "$name" 2>/dev/null | grep -q 'ok installed' || missing+=("$name")
  done
  [ ${#missing[@]} -eq 0 ] && return 0
  local as_root=()
  [ "$(id -u)" -eq 0 ] || as_root=(sudo)
  echo "Installing: ${missing[*]}"
  "${as_root[@]}" apt-get update -qq
  DEBIAN_FRONTEND=noninteractive "${as_root[@]}" apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
}

# build PRESET TARGET...: configures and builds in the preset's folder.
build() {
  local preset=$1
  shift
  cd "$root"
  cmake --preset "$preset" >/dev/null
  cmake --build --preset "$preset" --target "$@"
}
