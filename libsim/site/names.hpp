// Names: every thing of a kind has its own, and a reference to one that does not exist is answered with the
// nearest.
#pragma once
#include <algorithm>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include <lowspot/base/text.hpp>
#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {

// The names of things that have one, in their order.
template <class Thing>
std::vector<std::string> names_of(const std::vector<Thing>& things) {
  std::vector<std::string> names;
  for (const Thing& thing : things) names.push_back(thing.name);
  return names;
}

// Whether a name is in a list, letter by letter.
inline bool is_one_of(const std::string& name, const std::vector<std::string>& names) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

// Names in a row for a message, each once: "a", "b", "c".
inline std::string in_a_row(const std::vector<std::string>& names) {
  std::string row;
  std::set<std::string> said;
  for (const std::string& name : names)
    if (said.insert(name).second) row += (row.empty() ? "\"" : ", \"") + name + "\"";
  return row.empty() ? "none" : row;
}

// Throws when `name` is taken already.
template <class Thing>
void refuse_taken(const TableReader& table, const std::string& name, const std::vector<Thing>& others,
                  const std::string& kind) {
  if (is_one_of(name, names_of(others)))
    table.fail("name", "a second " + kind + " called \"" + name + "\"", "a name of its own for each " + kind,
               "Rename one of them; results are listed by name.");
}

// Throws when `name` is not among those that exist.
inline void refuse_unknown(const TableReader& table, const std::string& key, const std::string& name,
                           const std::vector<std::string>& known, const std::string& kind) {
  if (is_one_of(name, known)) return;
  const std::string near = nearest(name, known);
  table.fail(key, "\"" + name + "\"", kind + "; there are: " + in_a_row(known),
             near.empty() ? "Use a name of this list, or add what is missing."
                          : "Did you mean \"" + near + "\"?");
}

// The row of a catalogue table with this name (capitals do not matter), or null.
template <class Row>
const Row* find_row(const std::vector<Row>& rows, const std::string& name) {
  const std::string wanted = lower(trim(name));
  for (const Row& row : rows)
    if (lower(row.name) == wanted) return &row;
  return nullptr;
}

// As find_row(), but throws when there is none, listing the rows that exist.
template <class Row>
const Row& row_named(const TableReader& table, std::string_view key, const std::vector<Row>& rows,
                     std::string_view wanted, std::string_view kind) {
  const std::string name(wanted);
  if (const Row* row = find_row(rows, name)) return *row;
  std::vector<std::string> lowered;
  for (const Row& row : rows) lowered.push_back(lower(row.name));
  const std::string near = nearest(lower(trim(name)), lowered);
  table.fail(
      std::string(key), "\"" + name + "\"",
      "a " + std::string(kind) + " of the catalogue: " + in_a_row(names_of(rows)),
      (near.empty() ? std::string("Use one of these") : "Did you mean \"" + near + "\"? Use one of these") +
          ", or give own figures in a table { ... }.");
}

} // namespace lowspot::site
