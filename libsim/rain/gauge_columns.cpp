#include <lowspot/rain/gauge_columns.hpp>

#include <algorithm>
#include <cctype>
#include <optional>
#include <utility>

#include <lowspot/base/error.hpp>
#include <lowspot/base/limits.hpp>
#include <lowspot/base/quantity.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/rain/column_unit.hpp>
#include <lowspot/rain/time_label.hpp>

namespace lowspot::rain {
namespace {

bool has(const std::string& text, const char* part) {
  return text.find(part) != std::string::npos;
}

// Rain per time, whether its unit of time stands in the heading ("rain_mm_h") or not ("rain rate (in)").
bool is_rate(const std::string& column) {
  if (time_unit_of(column)) return true;
  static const std::vector<std::string> words = {"rate",      "rates",       "rainrate", "preciprate",
                                                 "intensity", "intensities", "mmh",      "mmhr",
                                                 "mmph",      "inh",         "inhr",     "iph"};
  std::string word;
  for (std::size_t k = 0; k <= column.size(); ++k) {
    if (k < column.size() && std::isalpha(static_cast<unsigned char>(column[k]))) {
      word += column[k];
      continue;
    }
    if (std::find(words.begin(), words.end(), word) != words.end()) return true;
    word.clear();
  }
  return false;
}

// Depths of rain, their unit in the column's name or in every cell ("0.4 in").
class DepthColumn {
public:
  DepthColumn(const CsvTable& table, std::string column)
      : table_(&table), column_(std::move(column)), unit_(length_unit_of(column_)) {
    if (is_rate(column_))
      throw InputError(
          {table.file, table.header_line, column_}, "a rate of rain",
          "the depth fallen in each interval, such as rain_mm",
          "multiply each rate by the length of its interval, and name the column rain_mm or rain_in");
    if (counts_parts_of_a_unit(column_))
      throw InputError({table.file, table.header_line, column_}, "depths counted in a part of a unit",
                       "depths in whole millimetres or inches, such as rain_mm",
                       "multiply the column by that part and name it rain_mm or rain_in");
    const auto readable = [&](const CsvRow& row) { return read(row).ok; };
    if (unit_ || std::any_of(table.rows.begin(), table.rows.end(), readable)) return;
    throw InputError({table.file, table.header_line, column_}, "a depth without a unit",
                     "a name such as rain_mm or depth_in, or the unit in each cell, such as 0.4 in",
                     "put the unit into the column's name");
  }
  double at(const CsvRow& row) const { // m
    const double depth = fallen(row);
    if (depth < 0)
      throw InputError({table_->file, row.line, column_},
                       "a negative depth (" + table_->text(row, column_) + ")", "0 or more",
                       "missing values must be left out or filled");
    return depth;
  }

private:
  double fallen(const CsvRow& row) const {
    if (unit_) return table_->number(row, column_) * *unit_;
    if (table_->text(row, column_) == "0") return 0; // nothing, in any unit
    const ParsedQuantity parsed = read(row);
    if (!parsed.ok)
      throw InputError({table_->file, row.line, column_}, "'" + table_->text(row, column_) + "'",
                       "a depth with its unit, as in other rows", "write it as 0.4 in or 10 mm");
    return parsed.value;
  }
  ParsedQuantity read(const CsvRow& row) const {
    return parse_quantity(table_->text(row, column_), Dimension::length);
  }
  const CsvTable* table_;
  std::string column_;
  std::optional<double> unit_; // m; none: in the cells
};

// What a column counts up to before it begins again at nothing, and how long that lasts.
struct Total {
  const char* word = nullptr;
  double lasts = 0; // s; 0: no set time
};
constexpr double day = 86400;
constexpr Total totals[] = {
    {"cumul", 0},          {"accum", 0},          {"running", 0},        {"since", 0},    {"event", 0},
    {"storm", 0},          {"total", 0},          {"daily", day},        {"today", day},  {"weekly", 7 * day},
    {"monthly", 28 * day}, {"yearly", 365 * day}, {"annual", 365 * day}, {"hourly", 3600}};

const Total* total_of(const std::string& column) {
  for (const Total& total : totals)
    if (has(column, total.word)) return &total;
  return nullptr;
}

// The column of what fell: one named for rain before one that only says depth, and what each interval had
// before what had fallen since the storm, the day or the week began. Snow is no rain.
std::string depth_column(const CsvTable& table) {
  std::string rate;
  std::vector<std::string> rain, totals_of_rain, depth;
  for (const std::string& name : table.columns) {
    const bool named = has(name, "rain") || has(name, "precip");
    if (has(name, "snow") || (!named && !has(name, "depth") && !has(name, "cumul"))) continue;
    if (is_rate(name)) {
      if (rate.empty()) rate = name; // refused, unless another one has depths
      continue;
    }
    (total_of(name) ? totals_of_rain : named ? rain : depth).push_back(name);
  }
  const bool total_of_rain =
      std::any_of(totals_of_rain.begin(), totals_of_rain.end(),
                  [](const std::string& name) { return has(name, "rain") || has(name, "precip"); });
  if (rain.empty() && !total_of_rain) rain = depth;
  if (rain.size() > 1)
    throw InputError({table.file, table.header_line, rain[1]},
                     "a second column of rain beside \"" + rain[0] + "\"", "one column of rain",
                     "leave out the columns that are not meant");
  if (!rain.empty()) return rain[0];
  if (!totals_of_rain.empty()) // the one that begins anew most seldom in a storm
    return *std::min_element(totals_of_rain.begin(), totals_of_rain.end(),
                             [](const auto& a, const auto& b) { return total_of(a) < total_of(b); });
  if (!rate.empty()) return rate;
  if (table.columns.size() == 2 && !has(table.columns[1], "snow")) return table.columns[1];
  throw InputError({table.file, table.header_line, ""}, "no column of rain",
                   "a column such as rain_mm or depth_in", "name the column of rain so");
}

// Whether the labels of this column end their intervals.
bool at_the_end(const std::string& column) {
  const auto letter = [&](std::size_t at) {
    return at < column.size() && std::isalpha(static_cast<unsigned char>(column[at]));
  };
  const std::size_t end = column.find("end"); // a word of its own, not that of a calendar
  const bool alone = end != std::string::npos && !letter(end + 3) && (end == 0 || !letter(end - 1));
  return alone || has(column, "until");
}

// The times of the rows: dates, or numbers with the unit of their column or in every cell ("15 min").
class TimeColumn {
public:
  explicit TimeColumn(const CsvTable& table) : table_(&table) {
    for (const std::string& name : table.columns)
      if (name_.empty() && (has(name, "time") || has(name, "date") || has(name, "until"))) name_ = name;
    if (name_.empty())
      throw InputError({table.file, table.header_line, ""}, "no column of time",
                       "a column such as time_min or time", "name the column of time so");
    if (name_ == "date")
      for (const std::string& name : table.columns)
        if (has(name, "time") || has(name, "until")) clock_ = name;
  }
  const std::string& name() const { return clock_.empty() ? name_ : clock_; }
  std::string text(const CsvRow& row) const {
    const std::string date = table_->text(row, name_);
    return clock_.empty() ? date : date + " " + table_->text(row, clock_);
  }
  double at(const CsvRow& row) { // s
    const std::string label = text(row);
    if (const auto date = time_label(label)) {
      const bool differs = zoned_ && *zoned_ != date->zoned;
      zoned_ = date->zoned;
      if (differs)
        throw InputError({table_->file, row.line, name()},
                         "'" + label + "' " + (date->zoned ? "with" : "without") + " a zone",
                         std::string("it ") + (date->zoned ? "without" : "with") + " one, as the row before",
                         "write all times with their zone, or none");
      return date->seconds;
    }
    const bool dated = label.find_first_of(":/") != std::string::npos ||
                       std::count(label.begin(), label.end(), '-') > 1; // not "1e-3", nor "-5"
    if (dated)
      throw InputError(
          {table_->file, row.line, name()}, "'" + label + "'",
          "a time such as 2024-05-17 14:05, 2:05 PM or 14:05+02:00 behind the date",
          "write each time with its date, the year first, or count minutes in a column time_min");
    if (const auto unit = time_unit_of(name_)) return table_->number(row, name_) * *unit;
    if (label == "0") return 0; // in any unit
    const ParsedQuantity parsed = parse_quantity(label, Dimension::time);
    if (!parsed.ok)
      throw InputError({table_->file, row.line, name_}, "'" + label + "', a number without a unit of time",
                       "dates, a column named time_s, time_min or time_h, or the unit in each cell, such as "
                       "15 min",
                       "name the column with its unit");
    return parsed.value;
  }

private:
  const CsvTable* table_;
  std::string name_, clock_;
  std::optional<bool> zoned_;
};

// A column that begins anew with every hour, day or week is one of single intervals where each row has one.
bool is_running_total(const std::string& column, const std::vector<double>& times) {
  const Total* total = total_of(column);
  if (!total) return false;
  if (total->lasts == 0) return true;
  std::vector<double> steps;
  for (std::size_t k = 1; k < times.size(); ++k) steps.push_back(times[k] - times[k - 1]);
  std::nth_element(steps.begin(), steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2), steps.end());
  return steps[steps.size() / 2] < 0.9 * total->lasts;
}

} // namespace

GaugeRows read_gauge_rows(const CsvTable& table) {
  TimeColumn labels(table);
  const std::string rain = depth_column(table);
  const DepthColumn fallen(table, rain);
  GaugeRows rows;
  rows.file = table.file;
  for (const CsvRow& row : table.rows) {
    const double time = labels.at(row);
    const double depth = fallen.at(row);
    if (!rows.times.empty() && time <= rows.times.back())
      throw InputError({table.file, row.line, labels.name()},
                       "'" + labels.text(row) + "', not later than the row before", "rising times",
                       "sort the rows and remove doubles; where clocks were set back, write times with their "
                       "zone, such as 2024-11-03T01:30-06:00");
    rows.times.push_back(time);
    rows.depths.push_back(depth);
    rows.lines.push_back(row.line);
  }
  if (rows.times.size() < 2)
    throw InputError({table.file, table.header_line, ""}, "fewer than two rows",
                     "a record of two intervals or more", "give the time and depth of each interval");
  if (rows.times.back() - rows.times.front() > limits::longest_time)
    throw InputError({table.file, rows.lines.back(), labels.name()},
                     "a record of " + rounded((rows.times.back() - rows.times.front()) / 86400, 4) + " days",
                     "three years at most", "cut the record to the rain that matters, or mend the dates");
  rows.read_off = at_the_end(labels.name());
  rows.running_total = is_running_total(rain, rows.times);
  if (const Total* total = total_of(rain); total && rows.running_total && total->lasts == 3600)
    throw InputError({table.file, table.header_line, rain},
                     "rain of the last hour in rows less than an hour apart",
                     "what fell in each interval, such as rain_mm, or a running total, such as cumulative_mm",
                     "export another column, or one row an hour");
  return rows;
}

} // namespace lowspot::rain
