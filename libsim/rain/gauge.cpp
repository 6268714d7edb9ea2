#include <lowspot/rain/gauge.hpp>

#include <algorithm>
#include <cctype>
#include <cstdio>
#include <optional>
#include <utility>

#include <lowspot/base/csv.hpp>
#include <lowspot/base/error.hpp>
#include <lowspot/base/limits.hpp>
#include <lowspot/base/quantity.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/rain/column_unit.hpp>

namespace lowspot::rain {
namespace {

bool has(const std::string& text, const char* part) {
  return text.find(part) != std::string::npos;
}

// Days since 1970-01-01 of a date of our calendar (Hinnant's algorithm of days from civil).
long days_from_civil(int year, int month, int day) {
  year -= month <= 2;
  const long era = (year >= 0 ? year : year - 399) / 400;
  const long year_of_era = year - era * 400;
  const long day_of_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
  return era * 146097 + year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year - 719468;
}

std::optional<double> date_seconds(const std::string& text) {
  int year, month, day, hour = 0, minute = 0;
  double second = 0;
  char gap;
  const int read =
      std::sscanf(text.c_str(), "%d-%d-%d%c%d:%d:%lf", &year, &month, &day, &gap, &hour, &minute, &second);
  if (read != 3 && read < 6) return {};
  if (year < 1 || year > 9999 || month < 1 || month > 12 || day < 1) return {};
  const long next_month = month < 12 ? days_from_civil(year, month + 1, 1) : days_from_civil(year + 1, 1, 1);
  if (day > next_month - days_from_civil(year, month, 1)) return {};
  if (hour < 0 || hour > 24 || minute < 0 || minute > 59 || !(second >= 0 && second < 61)) return {};
  return days_from_civil(year, month, day) * 86400.0 + hour * 3600.0 + minute * 60.0 + second;
}

double time_unit(const std::string& column, const CsvTable& table) {
  if (const auto unit = time_unit_of(column)) return *unit;
  throw InputError({table.file, table.header_line, column}, "numbers without a unit of time",
                   "dates, or a column named time_s, time_min or time_h", "name the column with its unit");
}

// Depths of rain, their unit in the column's name or in every cell ("0.4 in").
class DepthColumn {
public:
  DepthColumn(const CsvTable& table, std::string column)
      : table_(&table), column_(std::move(column)), unit_(length_unit_of(column_)) {
    if (time_unit_of(column_))
      throw InputError({table.file, table.header_line, column_}, "a rate of rain",
                       "the depth fallen in each interval",
                       "multiply each rate by the length of its interval");
    const auto readable = [&](const CsvRow& row) { return read(row).ok; };
    if (unit_ || std::any_of(table.rows.begin(), table.rows.end(), readable)) return;
    throw InputError({table.file, table.header_line, column_}, "a depth without a unit",
                     "a name such as rain_mm or depth_in, or the unit in each cell, such as 0.4 in",
                     "put the unit into the column's name");
  }
  double at(const CsvRow& row) const { // m
    if (unit_) return table_->number(row, column_) * *unit_;
    if (table_->text(row, column_) == "0") return 0; // nothing, in any unit
    const ParsedQuantity parsed = read(row);
    if (!parsed.ok)
      throw InputError({table_->file, row.line, column_}, "'" + table_->text(row, column_) + "'",
                       "a depth with its unit, as in other rows", "write it as 0.4 in or 10 mm");
    return parsed.value;
  }

private:
  ParsedQuantity read(const CsvRow& row) const {
    return parse_quantity(table_->text(row, column_), Dimension::length);
  }
  const CsvTable* table_;
  std::string column_;
  std::optional<double> unit_; // m; none: in the cells
};

std::string depth_column(const CsvTable& table) {
  for (const std::string& name : table.columns)
    if (has(name, "rain") || has(name, "depth") || has(name, "precip")) return name;
  if (table.columns.size() == 2) return table.columns[1];
  throw InputError({table.file, table.header_line, ""}, "no column of rain",
                   "a column such as rain_mm or depth_in", "name the column of rain so");
}

// Whether the labels of this column end their intervals: a gauge that was read by hand.
bool at_the_end(const std::string& column) {
  const auto letter = [&](std::size_t at) {
    return at < column.size() && std::isalpha(static_cast<unsigned char>(column[at]));
  };
  const std::size_t end = column.find("end"); // a word of its own, not that of a calendar
  const bool alone = end != std::string::npos && !letter(end + 3) && (end == 0 || !letter(end - 1));
  return alone || has(column, "until");
}

double least_step(const std::vector<double>& times) {
  double least = times[1] - times[0];
  for (std::size_t k = 2; k < times.size(); ++k) least = std::min(least, times[k] - times[k - 1]);
  return least;
}

// Each reading is what fell since the one before, however long that is. A first one of nothing is where the
// watch began; any other fell in as long as the shortest of the others.
Hyetograph from_readings(const std::vector<double>& times, const std::vector<double>& depths) {
  Hyetograph result;
  const double before = depths[0] > 0 ? least_step(times) : 0;
  result.time.push_back(0);
  if (before > 0) {
    result.intensity.push_back(depths[0] / before);
    result.time.push_back(before);
  }
  for (std::size_t k = 1; k < times.size(); ++k) {
    result.intensity.push_back(depths[k] / (times[k] - times[k - 1]));
    result.time.push_back(before + times[k] - times[0]);
  }
  return result;
}
} // namespace

Hyetograph read_gauge(const std::filesystem::path& path) {
  const CsvTable table = read_csv(path);
  std::string time_column;
  for (const std::string& name : table.columns)
    if (time_column.empty() && (has(name, "time") || has(name, "date") || has(name, "until")))
      time_column = name;
  if (time_column.empty())
    throw InputError({table.file, table.header_line, ""}, "no column of time",
                     "a column such as time_min or time", "name the column of time so");
  const std::string rain = depth_column(table);
  const DepthColumn fallen(table, rain);
  std::vector<double> times, depths;
  for (const CsvRow& row : table.rows) {
    const std::string text = table.text(row, time_column);
    const auto date = date_seconds(text);
    const double time = date ? *date : table.number(row, time_column) * time_unit(time_column, table);
    const double depth = fallen.at(row);
    if (depth < 0)
      throw InputError({table.file, row.line, rain}, "a negative depth (" + table.text(row, rain) + ")",
                       "0 or more", "missing values must be left out or filled");
    if (!times.empty() && time <= times.back())
      throw InputError({table.file, row.line, time_column}, "'" + text + "', not later than the row before",
                       "rising times", "sort the rows and remove doubles");
    times.push_back(time);
    depths.push_back(depth);
  }
  if (times.size() < 2)
    throw InputError({table.file, table.header_line, ""}, "fewer than two rows",
                     "a record of two intervals or more", "give the time and depth of each interval");
  if (times.back() - times.front() > limits::longest_time)
    throw InputError({table.file, table.rows.back().line, time_column},
                     "a record of " + rounded((times.back() - times.front()) / 86400, 4) + " days",
                     "three years at most", "cut the record to the rain that matters, or mend the dates");
  if (at_the_end(time_column)) return from_readings(times, depths);
  Hyetograph result;
  // Intervals last until the next label; the last as long as the one before it. A gap longer than usual keeps
  // its label's rain in an interval of the usual length.
  const double usual = least_step(times);
  int gaps = 0, first_gap = 0;
  for (std::size_t k = 0; k < times.size(); ++k) {
    const double start = times[k] - times[0];
    const double next = k + 1 < times.size() ? times[k + 1] - times[0] : start + usual;
    result.time.push_back(start);
    if (next - start > 1.5 * usual) {
      result.intensity.push_back(depths[k] / usual);
      result.time.push_back(start + usual);
      result.intensity.push_back(0);
      if (++gaps == 1) first_gap = table.rows[k].line;
    } else {
      result.intensity.push_back(depths[k] / (next - start));
    }
    if (k + 1 == times.size()) result.time.push_back(next);
  }
  if (depths.front() == 0 && depths.back() > 0)
    result.warnings.push_back(
        table.file +
        ": the first row has no rain and the last has some, as where each row is read off at the end of its "
        "time. Each is taken to begin its time, so that the rain ends " +
        rounded(usual / 60, 4) + " min after the last row; if yours were read off, call the column time_end");
  if (gaps == 1)
    result.warnings.push_back(table.file + ": a gap after row " + std::to_string(first_gap) +
                              " is taken as dry");
  if (gaps > 1) // a record of a season may have thousands
    result.warnings.push_back(table.file + ": " + std::to_string(gaps) + " gaps, the first after row " +
                              std::to_string(first_gap) + ", are taken as dry");
  return result;
}

} // namespace lowspot::rain
