#include <lowspot/terrain/levels.hpp>

#include <cmath>
#include <map>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/terrain/rod_book.hpp>
#include <lowspot/terrain/rod_reading.hpp>

namespace lowspot::terrain {
namespace {

const std::vector<std::string> known_columns = {"point",        "x",         "y",   "elevation", "backsight",
                                                "intermediate", "foresight", "note"};

void check_columns(const CsvTable& table, bool rod_book) {
  for (const char* needed : {"x", "y", "elevation"}) {
    if (table.column(needed) >= 0 || (rod_book && needed == std::string("elevation"))) continue;
    std::string mend =
        "name the columns x,y,elevation,note or point,x,y,backsight,intermediate,foresight,note";
    const std::map<std::string, std::vector<std::string>> other_names = {
        {"x", {"easting", "east"}},
        {"y", {"northing", "north"}},
        {"elevation", {"z", "elev", "level", "height", "elevation_ft", "elevation_m"}}};
    for (const std::string& other : other_names.at(needed))
      if (table.column(other) >= 0) mend = "rename the column \"" + other + "\"";
    for (const std::string& column : table.columns) {
      bool known = false;
      for (const std::string& name : known_columns) known = known || name == column;
      if (!known && nearest(column, known_columns) == needed) mend = "rename the column \"" + column + "\"";
    }
    throw InputError({table.file, table.header_line, needed}, "no such column", "a column of this name",
                     mend);
  }
  // A misspelt column would be passed over, and its readings with it.
  for (const std::string& column : table.columns) {
    const std::string near = nearest(column, {"backsight", "intermediate", "foresight", "elevation"});
    if (near.empty() || near == column || table.column(near) >= 0) continue;
    throw InputError({table.file, table.header_line, column}, "a column that is not known",
                     "\"" + near + "\"", "rename the column");
  }
}

bool all_digits(const std::string& text) {
  return !text.empty() && text.find_first_not_of("0123456789") == std::string::npos;
}

// "98,4" is two cells of a table.
void warn_of_decimal_commas(LevelBook& book) {
  std::size_t found = 0;
  const Shot* first = nullptr;
  for (const Shot& shot : book.shots) {
    if (!all_digits(shot.written.text) || !all_digits(shot.note)) continue;
    if (found++ == 0) first = &shot;
  }
  if (!first) return;
  const std::string whole = first->written.text, note = first->note;
  book.warnings.push_back(book.file + ", line " + std::to_string(first->line) +
                          (found > 1 ? " and " + std::to_string(found - 1) + " more" : "") +
                          ": the elevation is read as " + whole + " and the note as \"" + note + "\"; if " +
                          whole + "." + note + " was meant, the ground is wrong there: write \"" + whole +
                          "." + note + "\", since a comma ends a cell.");
}

void read_reduced(const CsvTable& table, const LevelUnits& units, LevelBook& book) {
  for (const CsvRow& row : table.rows) {
    const std::string elevation = table.text(row, "elevation");
    const bool has_place = !table.text(row, "x").empty() || !table.text(row, "y").empty();
    if (elevation.empty() && !has_place) continue; // a remark
    const auto z = parse_rod_reading(elevation, units.readings);
    if (!z)
      throw InputError(
          {table.file, row.line, "elevation"}, elevation.empty() ? "an empty cell" : "\"" + elevation + "\"",
          "a number such as 98.42",
          elevation.find(',') != std::string::npos ? "write the decimal mark as a point"
                                                   : "leave out units and remarks, or remove the row");
    if (!has_place) continue; // a benchmark off the yard
    Shot shot;
    shot.at = {table.number(row, "x") * units.coordinates, table.number(row, "y") * units.coordinates,
               z->metres};
    shot.note = table.text(row, "note");
    shot.name = table.text(row, "point");
    if (shot.name.empty()) shot.name = "line " + std::to_string(row.line);
    shot.line = row.line;
    shot.written = {elevation, units.readings, 1};
    book.shots.push_back(shot);
  }
  warn_of_decimal_commas(book);
}

} // namespace

LevelBook reduce_levels(const CsvTable& table, const LevelUnits& units) {
  LevelBook book;
  book.file = table.file;
  for (const char* column : {"backsight", "intermediate", "foresight"})
    book.rod_book = book.rod_book || table.column(column) >= 0;
  check_columns(table, book.rod_book);
  if (book.rod_book)
    reduce_rod_book(table, units, book);
  else
    read_reduced(table, units, book);
  if (book.shots.size() < 3)
    throw InputError({table.file, 0, ""},
                     std::to_string(book.shots.size()) + (book.shots.size() == 1 ? " shot" : " shots") +
                         " with x and y",
                     "at least three, not on one line", "shoot more points and give each its place");
  return book;
}

LevelBook read_levels(const site::Site& site) {
  LevelUnits units;
  units.coordinates = site.unit;
  units.readings = std::isnan(site.ground.levels_unit) ? site.unit : site.ground.levels_unit;
  units.name = site.units;
  return reduce_levels(read_csv(site.folder / site.ground.levels), units);
}

} // namespace lowspot::terrain
