#include <lowspot/site/hole_table.hpp>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdio>
#include <optional>

#include <lowspot/base/error.hpp>
#include <lowspot/base/quantity.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/site/files.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {

struct Known {
  const char* name;
  const char* column; // what it is another word for
  std::optional<Dimension> dimension;
};
// Longer names before those that they begin with.
const Known known[] = {{"hole_diameter", "diameter", Dimension::length},
                       {"water_depth", "water_depth", Dimension::length},
                       {"hole_depth", "depth", Dimension::length},
                       {"diameter", "diameter", Dimension::length},
                       {"presoak", "presoak", Dimension::time},
                       {"depth", "depth", Dimension::length},
                       {"drop", "drop", Dimension::length},
                       {"fall", "drop", Dimension::length},
                       {"time", "time", Dimension::time},
                       {"rate", "rate", Dimension::speed},
                       {"date", "date", {}},
                       {"note", "note", {}},
                       {"hole", "hole", {}}};

// "30 min/in", as some write a rate; empty when it is none.
std::optional<double> time_per_length(const std::string& text) {
  double count = 0;
  const auto [end, problem] = std::from_chars(text.data(), text.data() + text.size(), count);
  if (problem != std::errc() || !(count > 0 && std::isfinite(count))) return {};
  const std::string below = trim(end);
  if (below.find_first_of("0123456789") != std::string::npos) return {}; // "30 40 min/in"
  std::size_t stroke = below.find('/'), width = 1;
  if (stroke == std::string::npos) stroke = below.find(" per "), width = 5;
  if (stroke == std::string::npos) return {};
  const ParsedQuantity one = parse_quantity(
      "1 " + trim(below.substr(stroke + width)) + "/" + trim(below.substr(0, stroke)), Dimension::speed);
  if (!one.ok) return {};
  return one.value / count;
}

std::optional<double> parsed(const std::string& text, Dimension dimension) {
  if (const ParsedQuantity quantity = parse_quantity(text, dimension); quantity.ok) return quantity.value;
  if (dimension == Dimension::speed) return time_per_length(text);
  return {};
}

bool is_bare(const std::string& text) {
  return !text.empty() && text.find_first_not_of("+-.0123456789eE") == std::string::npos;
}

// Whether a note says that the hole was filled: "refilled", but not "not refilled".
bool says_filled(const std::string& note) {
  for (std::size_t at = note.find("filled"); at != std::string::npos; at = note.find("filled", at + 1)) {
    std::string before = note.substr(0, at);
    for (const char* part : {"-", "re"})
      if (before.ends_with(part)) before.resize(before.size() - std::string(part).size());
    before = trim(before);
    const std::size_t space = before.find_last_of(" ,;");
    const std::string word = space == std::string::npos ? before : before.substr(space + 1);
    if (word != "not" && word != "never" && word != "un" && !word.ends_with("n't")) return true;
  }
  return false;
}

class Columns {
public:
  explicit Columns(const CsvTable& table) : table_(table) {
    for (const std::string& heading : table.columns) {
      const Known* match = nullptr;
      for (const Known& one : known) {
        const std::string name = one.name;
        const bool ends = heading.size() == name.size() ||
                          (heading.size() > name.size() &&
                           std::string("_ ([").find(heading[name.size()]) != std::string::npos);
        if (!match && heading.rfind(name, 0) == 0 && ends) match = &one;
      }
      if (heading.empty()) continue;
      if (!match) refuse_heading(heading);
      add(heading, *match);
    }
    for (const Column& column : columns_)
      if (&column != find(column.name))
        throw InputError({table.file, table.header_line, column.heading}, "two columns of " + column.name,
                         "one", "Remove the one that does not count.");
  }

  bool has(const std::string& name) const { return find(name) != nullptr; }
  std::string text(const CsvRow& row, const std::string& name) const {
    const Column* column = find(name);
    return column ? table_.text(row, column->heading) : "";
  }
  // SI; empty for an empty cell.
  std::optional<double> quantity(const CsvRow& row, const std::string& name) const {
    const Column* column = find(name);
    const std::string cell = text(row, name);
    if (cell.empty()) return {};
    if (is_bare(cell) && !column->unit.empty()) {
      table_.number(row, column->heading); // an error that names the column, for what is no number
      if (const auto value = parsed(cell + " " + column->unit, column->dimension)) return value;
    }
    if (cell == "0") return 0.0;
    if (const auto value = parsed(cell, column->dimension)) return value;
    if (!column->unit.empty()) // 4 3/8 below water_depth_in
      if (const auto value = parsed(cell + " " + column->unit, column->dimension)) return value;
    throw InputError({table_.file, row.line, column->heading}, "\"" + cell + "\"",
                     a_quantity(column->dimension) + " with its unit",
                     "Write for example " + dimension_example(column->dimension) + ", or name the column " +
                         column->name + "_in with its unit.");
  }
  [[noreturn]] void fail(const CsvRow& row, const std::string& name, const std::string& found,
                         const std::string& expected, const std::string& mend) const {
    const Column* column = find(name);
    throw InputError({table_.file, row.line, column ? column->heading : name}, found, expected, mend);
  }

private:
  struct Column {
    std::string heading, name, unit;
    Dimension dimension = Dimension::length;
  };

  const Column* find(const std::string& name) const {
    for (const Column& column : columns_)
      if (column.name == name) return &column;
    return nullptr;
  }
  void add(const std::string& heading, const Known& one) {
    Column column{heading, one.column, "", one.dimension.value_or(Dimension::length)};
    if (one.dimension) column.unit = unit_in_heading(heading, one.name);
    if (!column.unit.empty() && !parsed("1 " + column.unit, column.dimension))
      throw InputError({table_.file, table_.header_line, heading}, "the unit \"" + column.unit + "\"",
                       "a unit of " + dimension_name(column.dimension),
                       "Write the heading as " + std::string(one.name) +
                           " and a unit in each cell, such as " + dimension_example(column.dimension) + ".");
    columns_.push_back(column);
  }
  [[noreturn]] void refuse_heading(const std::string& heading) const {
    std::vector<std::string> names;
    for (const Known& one : known) names.push_back(one.name);
    std::string near = nearest(heading, names);
    if (near.empty())
      near = nearest(heading.substr(0, heading.find_last_of("_ ([")), names); // without its unit
    throw InputError({table_.file, table_.header_line, heading}, "a column of this name",
                     "hole, diameter, depth, water_depth or drop, time, rate, presoak, date, note",
                     near.empty() ? "Rename the column, or put it into the notes."
                                  : "Did you mean \"" + near + "\"?");
  }

  const CsvTable& table_;
  std::vector<Column> columns_;
};

// Reads rows one by one into holes.
class Booking {
public:
  explicit Booking(const CsvTable& table) : columns_(table) {
    for (const char* needed : {"diameter"})
      if (!columns_.has(needed))
        throw InputError({table.file, table.header_line, needed}, "no such column",
                         "the diameter of each hole: a raw rate means nothing without it",
                         "Add a column diameter_in, and measure across the hole.");
    if (!columns_.has("rate") &&
        (!columns_.has("time") || (!columns_.has("water_depth") && !columns_.has("drop"))))
      throw InputError({table.file, table.header_line, ""}, "no readings",
                       "columns time and water_depth (or drop), or a column rate",
                       "Write for example hole,diameter_in,depth_in,time_min,water_depth_in,presoak.");
    for (const CsvRow& row : table.rows) read(row);
    for (const auto& [row, hole] : first_rows_) finish(row, holes_[hole]);
  }
  std::vector<BookedHole> holes() const { return holes_; }

private:
  void read(const CsvRow& row) {
    std::string name = columns_.text(row, "hole");
    if (name.empty()) name = holes_.empty() ? "1" : holes_.back().name;
    const auto same =
        std::find_if(holes_.begin(), holes_.end(), [&](const auto& each) { return each.name == name; });
    if (same == holes_.end()) {
      holes_.emplace_back();
      holes_.back().name = name;
      holes_.back().line = row.line;
      filled_to_ = not_given;
      first_rows_.emplace_back(row, holes_.size() - 1);
    } else if (same != holes_.end() - 1) {
      columns_.fail(row, "hole", "hole \"" + name + "\" again after another", "the rows of a hole together",
                    "Sort the rows by hole, or give the later test a name of its own.");
    }
    BookedHole& hole = holes_.back();
    read_hole(row, hole);
    if (!columns_.text(row, "rate").empty())
      read_rate(row, hole);
    else
      read_level(row, hole);
  }

  void keep(const CsvRow& row, const std::string& name, double& value) {
    const auto given = columns_.quantity(row, name);
    if (!given) return;
    if (!(*given > 0))
      columns_.fail(row, name, columns_.text(row, name), "more than 0", "Correct the figure.");
    if (value > 0 && std::abs(*given - value) > 1e-9)
      columns_.fail(row, name, columns_.text(row, name), "what the hole's first row says",
                    "A hole has one " + name + ": correct it, or give this row a hole of its own.");
    value = *given;
  }

  void read_hole(const CsvRow& row, BookedHole& hole) {
    keep(row, "diameter", hole.test.diameter);
    keep(row, "depth", hole.depth);
    const std::string presoak = lower(columns_.text(row, "presoak"));
    if (!presoak.empty()) {
      hole.presoak_known = true;
      if (presoak == "yes" || presoak == "overnight")
        hole.test.presoak = measure::full_presoak;
      else if (presoak == "no" || presoak == "none")
        hole.test.presoak = 0;
      else
        hole.test.presoak = *columns_.quantity(row, "presoak");
      if (hole.test.presoak < 0)
        columns_.fail(row, "presoak", presoak, "yes, no or a time such as \"4 hr\"",
                      "Remove the minus sign.");
    }
    if (const std::string date = columns_.text(row, "date"); !date.empty()) {
      int year = 0, month = 0, day = 0;
      char more = 0;
      if (std::sscanf(date.c_str(), "%d-%d-%d%c", &year, &month, &day, &more) != 3 || date.find('-') != 4 ||
          month < 1 || month > 12 || day < 1 || day > 31)
        columns_.fail(row, "date", "\"" + date + "\"", "year-month-day", "Write for example 2024-05-17.");
      hole.month = month;
    }
  }

  void read_rate(const CsvRow& row, BookedHole& hole) {
    if (hole.test.rate > 0 || !hole.test.readings.empty())
      columns_.fail(row, "rate", "a rate after other rows of this hole", "one rate, or readings",
                    "Give it a hole of its own.");
    hole.test.rate = *columns_.quantity(row, "rate");
    if (!(hole.test.rate > 0))
      columns_.fail(row, "rate", columns_.text(row, "rate"), "a rate of fall above 0",
                    "Where no fall was seen, give the readings: time and water_depth.");
    const auto depth = columns_.quantity(row, "water_depth");
    if (!depth || !(*depth > 0))
      columns_.fail(row, "water_depth", "nothing", "how deep the water stood on the average while it fell",
                    "Add it: the same rate means a conductivity several times higher in shallow water.");
    hole.test.rate_depth = *depth;
  }

  // A time of day such as 14:05 [s since midnight].
  std::optional<double> clock_time(const CsvRow& row) const {
    const std::string cell = columns_.text(row, "time");
    int hours = 0, minutes = 0, read = 0;
    if (std::sscanf(cell.c_str(), "%d:%d%n", &hours, &minutes, &read) != 2 || minutes < 0 || minutes >= 60)
      return {};
    const std::string half = lower(trim(cell.substr(static_cast<std::size_t>(read))));
    if (!half.empty()) {
      if ((half != "am" && half != "pm") || hours < 1 || hours > 12) return {};
      hours = hours % 12 + (half == "pm" ? 12 : 0);
    }
    return hours * 3600.0 + minutes * 60.0;
  }

  double time_of(const CsvRow& row) const {
    if (const auto clock = clock_time(row)) return *clock;
    if (const auto time = columns_.quantity(row, "time")) return *time;
    columns_.fail(row, "time", "an empty cell", "when the water was read", "Fill it in, or remove the row.");
  }

  void read_level(const CsvRow& row, BookedHole& hole) {
    std::vector<measure::Reading>& readings = hole.test.readings;
    const double time = time_of(row);
    const std::string note = lower(columns_.text(row, "note"));
    const bool refilled = !readings.empty() && says_filled(note);
    const auto water = columns_.quantity(row, "water_depth"), drop = columns_.quantity(row, "drop");
    if (!water && !drop)
      columns_.fail(row, columns_.has("water_depth") ? "water_depth" : "drop", "an empty cell",
                    "how deep the water stands, or how far it has dropped", "Fill it in, or remove the row.");
    const double since = drop.value_or(0);
    // Depth and drop both: the depth is that of the filling, unless both say the same level.
    double level = water.value_or(filled_to_);
    if (std::isnan(level))
      columns_.fail(row, "water_depth", "nothing", "how deep the water stood when the hole was filled",
                    "Add it to the hole's first row.");
    const bool says_level =
        water && (!drop || (!std::isnan(filled_to_) && std::abs(filled_to_ - since - *water) < 0.003));
    if (refilled || readings.empty()) filled_to_ = level + (says_level ? since : 0);
    if (!says_level) level -= since;
    if (level < -1e-9)
      columns_.fail(row, drop ? "drop" : "water_depth", columns_.text(row, drop ? "drop" : "water_depth"),
                    "at most the depth of the water", "A drop counts from the last filling: correct it.");
    if (hole.depth > 0 && level > hole.depth)
      columns_.fail(row, "water_depth", columns_.text(row, "water_depth"), "at most the depth of the hole",
                    "Water depth is measured from the bottom of the hole up.");
    if (!readings.empty() && time <= readings.back().time)
      columns_.fail(row, "time", "\"" + columns_.text(row, "time") + "\"",
                    "a time after that of the row before",
                    "Sort the rows by time; write times past noon as 13:05 or 1:05 PM, and count on after "
                    "midnight (24:30).");
    // A single row with its time and drop: it was filled at time 0. The clock does not tell when.
    if (readings.empty() && since > 0 && clock_time(row))
      columns_.fail(row, "drop",
                    "a drop of " + columns_.text(row, "drop") + " by " + columns_.text(row, "time") +
                        ", and no row before it",
                    "the row of the filling first, with the time on the clock and a drop of 0",
                    "Add it, or count the time from the filling (30 min).");
    if (readings.empty() && since > 0 && time > 0) readings.push_back({0, level + since, false});
    readings.push_back({time, std::max(0.0, level), refilled});
  }

  void finish(const CsvRow& row, const BookedHole& hole) const {
    if (!(hole.test.diameter > 0))
      columns_.fail(row, "diameter", "nothing", "the diameter of hole \"" + hole.name + "\"",
                    "Measure across the hole: a raw rate means nothing without it.");
    if (hole.test.rate <= 0 && hole.test.readings.size() < 2)
      columns_.fail(row, "time", "a single reading of hole \"" + hole.name + "\"", "two readings or more",
                    "Add the level when it was filled and those after it.");
    const auto& readings = hole.test.readings;
    if (readings.size() > 1 && std::all_of(readings.begin() + 1, readings.end(),
                                           [](const measure::Reading& one) { return one.refilled; }))
      columns_.fail(row, "note",
                    "hole \"" + hole.name +
                        "\": every row after the first is a filling, so no fall of the water is seen",
                    "a reading between one filling and the next",
                    "Add a row with the level just before each filling, and one at the end.");
  }

  Columns columns_;
  std::vector<BookedHole> holes_;
  std::vector<std::pair<CsvRow, std::size_t>> first_rows_;
  double filled_to_ = not_given;
};

} // namespace

std::vector<BookedHole> read_hole_table(const CsvTable& table) {
  return Booking(table).holes();
}

} // namespace lowspot::site
