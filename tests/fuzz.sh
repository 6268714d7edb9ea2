#!/usr/bin/env bash
# Feeds damaged input to every reader: `tests/fuzz.sh [SECONDS] [READER...]`, half a minute each by default. Starts from
# tests/fuzz/corpus and the demo; what it learns is kept in build-fuzz/learnt, and an input that breaks a reader is shown.
source "$(dirname "${BASH_SOURCE[0]}")/../cli/setup.sh"
seconds=${1:-30}
shift || true
readers=("$@")
[ ${#readers[@]} -gt 0 ] || readers=(site_file levels rain depth_duration hole_test dug_readings catalogue raster_header)
install_missing "${packages[@]}" clang-14 libclang-rt-14-dev
build fuzz "${readers[@]/#/fuzz_}"
run_one() {
  local name=$1 learnt=$root/build-fuzz/learnt/$1
  mkdir -p "$learnt"
  cp -n "$root/data/demo/site.toml" "$root/build-fuzz/learnt/site_file/" 2>/dev/null || true
  "$root/build-fuzz/tests/fuzz/fuzz_$name" -max_total_time="$seconds" -max_len=20000 -timeout=20 -rss_limit_mb=3000 \
    -artifact_prefix="$root/build-fuzz/$name-" -print_final_stats=1 "$learnt" "$root/tests/fuzz/corpus/$name" \
    >"$root/build-fuzz/$name.log" 2>&1 || { tail -40 "$root/build-fuzz/$name.log"; return 1; }
  echo "$name: $(grep -o 'number_of_executed_units: .*' "$root/build-fuzz/$name.log" | grep -o '[0-9]*') inputs"
}
export -f run_one
export root seconds
printf '%s\n' "${readers[@]}" | xargs -P "$(nproc)" -I {} bash -c 'run_one {}'
