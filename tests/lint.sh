#!/usr/bin/env bash
# Lints libsim and cli with the pinned tool. Sources of libsim are read eight at a time as one, which costs little more than one
# alone; eight that cannot be read together, because two keep the same name to themselves, are read four at a time, and four
# that cannot one by one. The path-sensitive
# analyzer is kept shallow: at its full depth (SHALLOW= tests/lint.sh) it is half of the time.
source "$(dirname "${BASH_SOURCE[0]}")/../cli/setup.sh"
install_missing "${packages[@]}" clang-tidy-14
cd "$root"
plain=(-G Ninja -DCMAKE_BUILD_TYPE=Release -DLOWSPOT_TESTS=OFF -DLOWSPOT_BENCHMARKS=OFF -DCMAKE_DISABLE_PRECOMPILE_HEADERS=ON)
cmake -S . -B build-lint "${plain[@]}" -DCMAKE_UNITY_BUILD=ON -DCMAKE_UNITY_BUILD_BATCH_SIZE=8 >/dev/null
cmake -S . -B build-lint/four "${plain[@]}" -DCMAKE_UNITY_BUILD=ON -DCMAKE_UNITY_BUILD_BATCH_SIZE=4 >/dev/null
cmake -S . -B build-lint/alone "${plain[@]}" >/dev/null
export root shallow="--extra-arg=-Xclang --extra-arg=-analyzer-config --extra-arg=-Xclang --extra-arg=mode=shallow"
if [ "${SHALLOW-yes}" = "" ]; then shallow=; fi

# What means nothing where sources are joined.
export not_joined=-bugprone-suspicious-include,-readability-redundant-declaration

# lint FILE FOLDER: FILE as the build in FOLDER compiles it. What cannot be read joined is read in parts.
lint() {
  local file=$1 folder=$2 found parts checks= part ok=0
  if [[ $file == */Unity/* ]]; then checks=--checks=$not_joined; fi
  if found=$(clang-tidy-14 -p "$folder" --quiet --warnings-as-errors='*' $checks $shallow "$file" 2>/dev/null); then
    return 0
  fi
  if [[ $file == */Unity/* ]] && grep -q clang-diagnostic-error <<<"$found"; then
    parts=$(parts_of "$file")
    [ -n "$parts" ] || { echo "$file cannot be read, and its parts were not found"; return 1; }
    for part in $parts; do lint "$part" "$(folder_of "$part")" || ok=1; done
    return $ok
  fi
  echo "$found"
  return 1
}

# The joined sources of half the size that hold what FILE joins: number k of eight is 2k and 2k + 1 of four. Four fall apart
# into single sources.
parts_of() {
  local file=$1 number
  if [[ $file == */four/* ]]; then
    sed -n 's/^#include "\(.*\.cpp\)"$/\1/p' "$file"
    return
  fi
  number=${file##*unity_}
  number=${number%%_*}
  local k each
  for k in $((2 * number)) $((2 * number + 1)); do
    each=${file/build-lint\//build-lint\/four\/}
    each=${each/unity_${number}_/unity_${k}_}
    [ ! -e "$each" ] || echo "$each"
  done
}
folder_of() { if [[ $1 == */four/* ]]; then echo build-lint/four; else echo build-lint/alone; fi; }
export -f lint parts_of folder_of
sed -n 's/^ *"file": "\(.*\)".*/\1/p' build-lint/compile_commands.json | xargs -P "$(nproc)" -I {} bash -c 'lint "$1" build-lint' _ {}
echo "lint: nothing found"
