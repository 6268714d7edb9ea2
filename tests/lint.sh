#!/usr/bin/env bash
# Lints libsim and cli with the pinned tool. Sources of libsim are read four at a time as one, which costs little more than one
# alone; four that cannot be read together, because two keep the same name to themselves, are read one by one. The path-sensitive
# analyzer is kept shallow: at its full depth (SHALLOW= tests/lint.sh) it is half of the time.
source "$(dirname "${BASH_SOURCE[0]}")/../cli/setup.sh"
install_missing "${packages[@]}" clang-tidy-14
cd "$root"
plain=(-G Ninja -DCMAKE_BUILD_TYPE=Release -DLOWSPOT_TESTS=OFF -DLOWSPOT_BENCHMARKS=OFF -DCMAKE_DISABLE_PRECOMPILE_HEADERS=ON)
cmake -S . -B build-lint "${plain[@]}" -DCMAKE_UNITY_BUILD=ON -DCMAKE_UNITY_BUILD_BATCH_SIZE=4 >/dev/null
cmake -S . -B build-lint/alone "${plain[@]}" >/dev/null
export root shallow="--extra-arg=-Xclang --extra-arg=-analyzer-config --extra-arg=-Xclang --extra-arg=mode=shallow"
if [ "${SHALLOW-yes}" = "" ]; then shallow=; fi

# What means nothing where sources are joined.
export not_joined=-bugprone-suspicious-include,-readability-redundant-declaration

lint() {
  local file=$1 found checks=
  if [[ $file == */Unity/* ]]; then checks=--checks=$not_joined; fi
  if found=$(clang-tidy-14 -p build-lint --quiet --warnings-as-errors='*' $checks $shallow "$file" 2>/dev/null); then
    return 0
  fi
  if [[ $file == */Unity/* ]] && grep -q clang-diagnostic-error <<<"$found"; then
    found=
    local alone each ok=0
    for each in $(sed -n 's/^#include "\(.*\.cpp\)"$/\1/p' "$file"); do
      alone=$(clang-tidy-14 -p build-lint/alone --quiet --warnings-as-errors='*' $shallow "$each" 2>/dev/null) || { ok=1; found+=$alone$'\n'; }
    done
    [ $ok -eq 0 ] && return 0
  fi
  echo "$found"
  return 1
}
export -f lint
sed -n 's/^ *"file": "\(.*\)".*/\1/p' build-lint/compile_commands.json | xargs -P "$(nproc)" -I {} bash -c 'lint "$1"' _ {}
echo "lint: nothing found"
