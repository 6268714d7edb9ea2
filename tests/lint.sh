#!/usr/bin/env bash
# Lints libsim and cli with the pinned tool. Reading the headers is most of the work, so that sources of a folder are read up to
# ten at a time as one: those that keep no name in common to themselves. What cannot be read joined all the same is read one by
# one. The path-sensitive analyzer is kept shallow: at its full depth (SHALLOW= tests/lint.sh) it is half of the time.
source "$(dirname "${BASH_SOURCE[0]}")/../cli/setup.sh"
install_missing "${packages[@]}" clang-tidy-14
cd "$root"
cmake -S . -B build-lint -G Ninja -DCMAKE_BUILD_TYPE=Release -DLOWSPOT_TESTS=OFF -DLOWSPOT_BENCHMARKS=OFF \
  -DCMAKE_DISABLE_PRECOMPILE_HEADERS=ON -DCMAKE_UNITY_BUILD=OFF >/dev/null
export root shallow="--extra-arg=-Xclang --extra-arg=-analyzer-config --extra-arg=-Xclang --extra-arg=mode=shallow"
if [ "${SHALLOW-yes}" = "" ]; then shallow=; fi
joined=build-lint/joined
rm -rf "$joined" && mkdir "$joined"

# Writes the joined sources and how each is compiled: as the first of those in it.
awk -v folder="$root/$joined" -v most=10 '
  # Names that a source keeps to itself: what is declared at the left margin of its namespace without a name. What else it
  # speaks of goes into speaks_of.
  function own_names(file,    line, inside, names, words, count, k) {
    names = " "
    while ((getline line < file) > 0) {
      count = split(line, words, /[^A-Za-z_0-9]+/)
      for (k = 1; k <= count; ++k) speaks_of[file, words[k]]
      if (line == "namespace {") inside = 1
      else if (line == "} // namespace") inside = 0
      else if (inside && line ~ /^[A-Za-z]/) {
        sub(/\(.*/, "(", line)
        while (match(line, /[A-Za-z_][A-Za-z_0-9]* *[=({;,]/)) {
          name = substr(line, RSTART, RLENGTH)
          sub(/[^A-Za-z_0-9].*/, "", name)
          names = names name " "
          line = substr(line, RSTART + RLENGTH)
        }
      }
    }
    close(file)
    return names
  }
  # Whether one of these names is kept by any of these sources, too, or stands for what a header declares in one of them.
  function in_the_way(names, sources, theirs,    name, source, names_count, sources_count, k, s) {
    names_count = split(names, name, " ")
    sources_count = split(sources, source, " ")
    for (k = 1; k <= names_count; ++k) {
      if (index(theirs, " " name[k] " ")) return 1
      for (s = 1; name[k] in declared && s <= sources_count; ++s) if ((source[s], name[k]) in speaks_of) return 1
    }
    return 0
  }
  function text(line) { sub(/^ *"[a-z]*": "/, "", line); sub(/",?$/, "", line); return line }
  FILENAME ~ /hpp$/ {
    while (/^[A-Za-z]/ && match($0, /[A-Za-z_][A-Za-z_0-9]*\(|(struct|class|using) [A-Za-z_0-9]+/)) {
      name = substr($0, RSTART, RLENGTH)
      sub(/^.* /, "", name)
      sub(/\($/, "", name)
      declared[name]
      $0 = substr($0, RSTART + RLENGTH)
    }
    next
  }
  /^ *"directory":/ { directory = text($0) }
  /^ *"command":/ { command = text($0) }
  /^ *"file":/ {
    file = text($0)
    how = command
    sub(/ -o .*/, "", how)
    here = file
    sub(/[^\/]*$/, "", here)
    names = own_names(file)
    for (k = 1; k <= groups; ++k)
      if (kind[k] == here how && size[k] < most && !in_the_way(names, members[k], taken[k]) &&
          !in_the_way(taken[k], file, names)) break
    if (k > groups) {
      groups = k
      kind[k] = here how
      taken[k] = " "
      path = folder "/" k ".cpp"
      sub(/ -o .*/, " -c " path, command)
      entry = "{\"directory\": \"" directory "\", \"command\": \"" command "\", \"file\": \"" path "\"}"
      print (k == 1 ? "[" : ",") entry > (folder "/compile_commands.json")
    }
    ++size[k]
    taken[k] = taken[k] names
    members[k] = members[k] file " "
    print "#include \"" file "\"" > (folder "/" k ".cpp")
  }
  END { print "\n]" > (folder "/compile_commands.json") }' $(git ls-files 'libsim/*.hpp' 'cli/*.hpp') build-lint/compile_commands.json

# What means nothing where sources are joined.
export not_joined=-bugprone-suspicious-include,-readability-redundant-declaration

# lint FILE: a joined source, or its parts where it cannot be read.
lint() {
  local file=$1 found part ok=0
  if found=$(clang-tidy-14 -p build-lint/joined --quiet --warnings-as-errors='*' --checks="$not_joined" $shallow "$file" 2>/dev/null); then
    return 0
  fi
  if ! grep -q clang-diagnostic-error <<<"$found"; then
    echo "$found"
    return 1
  fi
  for part in $(sed -n 's/^#include "\(.*\)"$/\1/p' "$file"); do
    found=$(clang-tidy-14 -p build-lint --quiet --warnings-as-errors='*' $shallow "$part" 2>/dev/null) || { echo "$found"; ok=1; }
  done
  return $ok
}
export -f lint
ls "$joined"/*.cpp | xargs -P "$(nproc)" -I {} bash -c 'lint "$root/$1"' _ {}
echo "lint: nothing found"
