#!/usr/bin/env bash
# Feeds damaged input to every reader of files.
#   tests/fuzz.sh [SECONDS] [READER...]   half a minute each by default, all cores
#   tests/fuzz.sh replay [READER...]      only what is kept in tests/fuzz/corpus, once: seconds in all
#   tests/fuzz.sh ci [READER...]          replays, then the same search every time, two readers at a time
# Starts from tests/fuzz/corpus and the demo; what it learns is kept in build-fuzz/learnt, and an input that breaks a
# reader is shown. Such an input, once mended, is kept in the corpus under a name that says what it was.
source "$(dirname "${BASH_SOURCE[0]}")/../cli/setup.sh"

# Inputs of each reader in the search of CI, some quarter of a minute each. They are a number and not a time, and begin from one
# seed and the corpus alone: a change is refused for what it does, never for how fast the machine was or for luck.
inputs_of() {
  case $1 in
    site_file) echo 40000 ;;
    levels) echo 25000 ;;
    rain) echo 150000 ;;
    depth_duration) echo 100000 ;;
    time_series) echo 100000 ;;
    hole_test) echo 55000 ;;
    dug_readings) echo 200000 ;;
    catalogue) echo 100000 ;;
    raster_header) echo 15000 ;;
    outline) echo 100000 ;;
  esac
}

all=(site_file levels rain depth_duration time_series hole_test dug_readings catalogue raster_header outline)
mode=search seconds=30 side_by_side=$(nproc)
case ${1:-} in
  replay) mode=replay; shift ;;
  ci) mode=ci side_by_side=2; shift ;;
  *) seconds=${1:-30}; shift || true ;;
esac
readers=("$@")
[ ${#readers[@]} -gt 0 ] || readers=("${all[@]}")
install_missing "${packages[@]}" clang-14 libclang-rt-14-dev
build fuzz "${readers[@]/#/fuzz_}"

# What is compared in a reader guides the search, and with it where things lie in memory: they are laid out the same each
# time, without what the environment adds. Where the system does not allow that, what is compared is left out, and two
# searches are all but the same.
if setarch -R true 2>/dev/null; then same_places="setarch -R" compared=1; else same_places= compared=0; fi

# The project under a path as long wherever it lies, since paths lie in memory, too.
place=$(mktemp -d /tmp/lowspot-XXXXXXXX)
trap 'rm -rf "$place"' EXIT
ln -s "$root" "$place/root"

# target NAME OPTION...: runs one and keeps what it says; shows the end of it when it fails.
target() {
  local name=$1 log=$root/build-fuzz/$1.log
  shift
  $same_places env -i PATH=/usr/bin:/bin "$place/root/build-fuzz/tests/fuzz/fuzz_$name" -max_len=20000 -timeout="$timeout" -rss_limit_mb=3000 \
    -artifact_prefix="$place/root/build-fuzz/$name-" -print_final_stats=1 "$@" >"$log" 2>&1 || { tail -40 "$log"; return 1; }
  echo "$name: $(grep -ao 'number_of_executed_units: .*' "$log" | grep -o '[0-9]*') inputs, which reach" \
    "$(grep -ao 'cov: [0-9]* ft: [0-9]*' "$log" | tail -1 | sed 's/cov: \([0-9]*\) ft: \([0-9]*\)/\1 branches in \2 ways/')"
}
replay_one() { target "$1" -runs=0 "$place/root/tests/fuzz/corpus/$1"; }
search_one() {
  local learnt=$root/build-fuzz/learnt/$1
  mkdir -p "$learnt"
  [ "$1" != site_file ] || cp -n "$root/data/demo/site.toml" "$learnt/" 2>/dev/null || true
  target "$1" -max_total_time="$seconds" "$learnt" "$root/tests/fuzz/corpus/$1"
}
same_search() {
  local fresh=$place/root/build-fuzz/fresh/$1 kept
  rm -rf "$fresh"
  mkdir -p "$fresh"
  kept=$(LC_ALL=C; printf '%s,' "$place/root/tests/fuzz/corpus/$1"/*)
  target "$1" -seed=1 -runs="$(inputs_of "$1")" -reload=0 -use_cmp="$compared" -seed_inputs="${kept%,}" "$fresh"
}
export -f target replay_one search_one same_search inputs_of
export root place seconds same_places compared timeout=10
each() { printf '%s\n' "${readers[@]}" | xargs -P "$side_by_side" -I {} bash -c "$1 {}"; }
[ "$mode" = search ] || each replay_one
[ "$mode" != search ] || each search_one
[ "$mode" != ci ] || timeout=60 each same_search
