#!/usr/bin/env bash
# Shows which share of the lines of each layer of physics its tests run: `tests/coverage.sh [LAYER...]`. Beside a layer's own
# tests the exact cases of tests/verification count. A line that stands in several instances (templates, one for each set
# of vector instructions) counts once, as run when one of them has run. Lines never run are listed in build-coverage/LAYER.txt.
source "$(dirname "${BASH_SOURCE[0]}")/../cli/setup.sh"
layers=("$@")
[ ${#layers[@]} -gt 0 ] || layers=(relief measure terrain rain surface soil perched drain yard)
if grep -qi ubuntu /etc/os-release 2>/dev/null; then test_packages=(catch2 gdal-bin); fi
install_missing "${packages[@]}" "${test_packages[@]}"
build coverage "${layers[@]/#/test_}" test_verification
find build-coverage -name '*.gcda' -delete
ctest --test-dir build-coverage -j "$(nproc)" --output-on-failure -R "^($(IFS='|'; echo "${layers[*]}")|verification)$"

for layer in "${layers[@]}"; do
  work=build-coverage/gcov/$layer
  rm -rf "$work" && mkdir -p "$work"
  # One object a source; templates and inline functions of headers count where the sources of the layer use them.
  (cd "$work" && find "$root/build-coverage/libsim/CMakeFiles/lowspot_$layer.dir" -name '*.gcda' -print0 | sort -z |
    xargs -0 -r gcov --preserve-paths --source-prefix "$root" --relative-only >/dev/null 2>&1)
  find "$work" -name "libsim#$layer#*.cpp.gcov" -print0 | sort -z | xargs -0 -r awk -F: -v layer="$layer" -v list="build-coverage/$layer.txt" '
    BEGIN { printf "" > list }
    FNR == 1 { name = FILENAME; sub(/.*libsim#/, "", name); sub(/\.gcov$/, "", name); gsub(/#/, "/", name) }
    { count = $1; gsub(/[ *]/, "", count); line = $2 + 0 }
    line == 0 || count == "-" { next }
    { key = name ":" line; if (!(key in text)) { text[key] = $0; sub(/^[^:]*:[^:]*:/, "", text[key]); order[++total] = key } }
    count !~ /^[#=]/ { ran[key] = 1 }
    END {
      for (k = 1; k <= total; k++) if (!(order[k] in ran)) { missed++; print order[k] ":" text[order[k]] >> list }
      printf "%-10s %6d lines, %5.1f %% run by the tests\n", layer, total, total ? 100 * (total - missed) / total : 0
    }'
done
