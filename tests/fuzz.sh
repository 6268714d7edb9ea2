#!/usr/bin/env bash
# Feeds damaged input to every reader of files.
#   tests/fuzz.sh [SECONDS] [READER...]   half a minute each by default, all cores
#   tests/fuzz.sh replay [READER...]      only what is kept in tests/fuzz/corpus, once: seconds in all
#   tests/fuzz.sh ci [SECONDS]            replays, then half a minute each, two at a time
# Starts from tests/fuzz/corpus and the demo; what it learns is kept in build-fuzz/learnt, and an input that breaks a
# reader is shown. Such an input, once mended, is kept in the corpus under a name that says what it was.
source "$(dirname "${BASH_SOURCE[0]}")/../cli/setup.sh"
all=(site_file levels rain depth_duration time_series hole_test dug_readings catalogue raster_header outline)
mode=search seconds=30 side_by_side=$(nproc)
case ${1:-} in
  replay) mode=replay; shift ;;
  ci) mode=ci side_by_side=2; shift; seconds=${1:-30}; shift || true ;;
  *) seconds=${1:-30}; shift || true ;;
esac
readers=("$@")
[ ${#readers[@]} -gt 0 ] || readers=("${all[@]}")
install_missing "${packages[@]}" clang-14 libclang-rt-14-dev
build fuzz "${readers[@]/#/fuzz_}"

# target NAME OPTION...: runs one and keeps what it says; shows the end of it when it fails.
target() {
  local name=$1
  shift
  "$root/build-fuzz/tests/fuzz/fuzz_$name" -max_len=20000 -timeout=10 -rss_limit_mb=3000 \
    -artifact_prefix="$root/build-fuzz/$name-" -print_final_stats=1 "$@" >"$root/build-fuzz/$name.log" 2>&1 ||
    { tail -40 "$root/build-fuzz/$name.log"; return 1; }
  echo "$name: $(grep -o 'number_of_executed_units: .*' "$root/build-fuzz/$name.log" | grep -o '[0-9]*') inputs"
}
replay_one() { target "$1" -runs=0 "$root/tests/fuzz/corpus/$1"; }
search_one() {
  local learnt=$root/build-fuzz/learnt/$1
  mkdir -p "$learnt"
  [ "$1" != site_file ] || cp -n "$root/data/demo/site.toml" "$learnt/" 2>/dev/null || true
  target "$1" -max_total_time="$seconds" "$learnt" "$root/tests/fuzz/corpus/$1"
}
export -f target replay_one search_one
export root seconds
each() { printf '%s\n' "${readers[@]}" | xargs -P "$side_by_side" -I {} bash -c "$1 {}"; }
[ "$mode" = search ] || each replay_one
[ "$mode" = replay ] || each search_one
