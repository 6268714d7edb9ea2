#include <lowspot/rain/depth_duration.hpp>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <initializer_list>
#include <optional>
#include <sstream>

#include <lowspot/base/csv.hpp>
#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/rain/column_unit.hpp>

namespace lowspot::rain {
namespace {
constexpr double inch = 0.0254, minute = 60;

struct Table {
  std::vector<double> periods;             // years
  std::vector<double> durations;           // s
  std::vector<std::vector<double>> depths; // m, by duration then period
  std::vector<int> lines;
  int header_line = 0;
};

std::optional<double> leading_number(std::string_view text) {
  double value = 0;
  const auto [end, problem] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (problem != std::errc{} || end == text.data()) return {};
  return value;
}

std::vector<std::string> split(const std::string& line) {
  std::vector<std::string> cells;
  std::istringstream stream(line);
  for (std::string cell; std::getline(stream, cell, ',');) cells.push_back(trim(cell));
  return cells;
}

// "5-min:", "2-hr:", "10-day:" in seconds.
std::optional<double> labelled_duration(const std::string& label) {
  const auto value = leading_number(label);
  if (!value) return {};
  if (label.find("min") != std::string::npos) return *value * minute;
  if (label.find("hr") != std::string::npos) return *value * 60 * minute;
  if (label.find("day") != std::string::npos) return *value * 1440 * minute;
  return {};
}

// The weather service's file: free text, a line of return periods, then labelled rows. Only the first of the
// tables (the estimate; bounds may follow) is read.
Table read_labelled(const std::string& content, const std::string& file) {
  Table table;
  std::istringstream stream(content);
  double unit = inch;
  bool intensity = false, inside = false;
  int line_number = 0;
  for (std::string line; std::getline(stream, line);) {
    ++line_number;
    const std::string low = lower(line);
    if (!inside && low.find("millimet") != std::string::npos) unit = 1e-3;
    if (!inside && low.find("data type") != std::string::npos)
      intensity = low.find("intensity") != std::string::npos;
    const std::vector<std::string> cells = split(line);
    if (low.rfind("by duration for", 0) == 0) {
      if (inside) break;
      inside = true;
      table.header_line = line_number;
      for (std::size_t k = 1; k < cells.size(); ++k) {
        const auto period = leading_number(cells[k]);
        if (!period || cells[k].find('/') != std::string::npos)
          throw InputError({file, line_number, ""}, "'" + cells[k] + "' where a return period should stand",
                           "return periods in years (a partial-duration series)",
                           "download the partial-duration table of the station again");
        table.periods.push_back(*period);
      }
      continue;
    }
    if (!inside || cells.empty()) continue;
    const auto duration = labelled_duration(cells[0]);
    if (!duration) {
      if (!table.durations.empty()) break;
      continue;
    }
    std::vector<double> row;
    for (std::size_t k = 1; k < cells.size(); ++k)
      if (const auto depth = leading_number(cells[k]))
        row.push_back(*depth * unit * (intensity ? *duration / 3600 : 1));
    if (row.size() != table.periods.size())
      throw InputError({file, line_number, cells[0]}, std::to_string(row.size()) + " values",
                       std::to_string(table.periods.size()) + ", one a return period",
                       "download the table again");
    table.durations.push_back(*duration);
    table.depths.push_back(row);
    table.lines.push_back(line_number);
  }
  return table;
}

bool has_any(const std::string& name, std::initializer_list<const char*> words) {
  return std::any_of(words.begin(), words.end(),
                     [&](const char* word) { return name.find(word) != std::string::npos; });
}

// "50%" is a storm of two years, not of fifty; its columns run the other way as well.
void refuse_probability(const CsvTable& csv, const std::string& name) {
  if (!has_any(name, {"%", "aep", "probab", "percent", "1/"})) return;
  throw InputError(
      {csv.file, csv.header_line, name}, "a probability of each year", "return periods in years, rp_2yr",
      "write 100 over the per cent: 50 % is rp_2yr, 10 % rp_10yr, 1 % rp_100yr, in rising order");
}

// "2yr_in_hr": an intensity would be taken for the depth of its duration.
void refuse_rate(const CsvTable& csv, const std::string& name) {
  if (!time_unit_of(name) && !has_any(name, {"intensity", "rate"})) return;
  throw InputError({csv.file, csv.header_line, name}, "a rate of rain",
                   "the depth that falls in each duration, such as rp_2yr_in",
                   "multiply each rate by its duration in hours, and name the column without a unit of time");
}

// A plain table: a duration column (minutes or hours by its name) and one column a return period.
Table read_plain(const std::filesystem::path& path) {
  const CsvTable csv = read_csv(path);
  Table table;
  table.header_line = csv.header_line;
  std::vector<std::string> columns;
  std::string duration_column;
  std::vector<double> units;
  for (const std::string& name : csv.columns) {
    if (name.rfind("duration", 0) == 0) {
      duration_column = name;
      continue;
    }
    const std::size_t digit = name.find_first_of("0123456789");
    if (digit == std::string::npos) continue;
    const auto period = leading_number(std::string_view(name).substr(digit));
    if (!period || *period <= 0) continue;
    refuse_probability(csv, name);
    refuse_rate(csv, name);
    if (has_any(name, {"lower", "upper", "bound", "conf", "limit"})) continue; // of the estimate's doubt
    table.periods.push_back(*period);
    columns.push_back(name);
    units.push_back(length_unit_of(name).value_or(inch));
  }
  if (duration_column.empty() || columns.empty())
    throw InputError({csv.file, csv.header_line, ""}, "a header without a duration and a return period",
                     "columns such as duration_min,rp_2yr,rp_10yr", "name the columns so");
  const auto duration_unit = time_unit_of(duration_column);
  if (!duration_unit)
    throw InputError({csv.file, csv.header_line, duration_column}, "durations without a unit",
                     "a column named duration_min or duration_h", "put the unit into the column's name");
  for (const CsvRow& row : csv.rows) {
    table.durations.push_back(csv.number(row, duration_column) * *duration_unit);
    table.lines.push_back(row.line);
    std::vector<double> depths;
    for (std::size_t k = 0; k < columns.size(); ++k) depths.push_back(csv.number(row, columns[k]) * units[k]);
    table.depths.push_back(depths);
  }
  return table;
}

// Share of the way from one period to the next, in the logarithm of the period.
double depth_at(const Table& table, std::size_t row, double period) {
  const std::vector<double>& periods = table.periods;
  std::size_t k = 1;
  while (k + 1 < periods.size() && periods[k] < period) ++k;
  if (periods.size() == 1) return table.depths[row][0];
  const double share = std::log(period / periods[k - 1]) / std::log(periods[k] / periods[k - 1]);
  return table.depths[row][k - 1] + share * (table.depths[row][k] - table.depths[row][k - 1]);
}

void check(const Table& table, const std::string& file) {
  if (table.durations.empty() || table.periods.empty())
    throw InputError({file, 0, ""}, "no table of depth by duration and return period", "one such table",
                     "a place outside the service's coverage gives an empty file; choose another station");
  if (!std::is_sorted(table.periods.begin(), table.periods.end()))
    throw InputError({file, table.header_line, ""}, "return periods that do not rise from left to right",
                     "columns in rising order of the return period", "sort the columns");
  if (const auto twice = std::adjacent_find(table.periods.begin(), table.periods.end());
      twice != table.periods.end())
    throw InputError({file, table.header_line, ""}, "two columns of " + rounded(*twice, 4) + " years",
                     "one column a return period",
                     "leave out bounds and other columns that are not the estimate");
  for (std::size_t k = 0; k < table.depths.size(); ++k)
    if (!std::is_sorted(table.depths[k].begin(), table.depths[k].end()))
      throw InputError({file, table.lines[k], ""}, "a depth that falls as the return period rises",
                       "more rain in rarer storms", "look at this row and at the headings");
}

// The curve of one return period.
DepthDuration curve_of(const Table& table, const std::string& file, double period, const Where& asked) {
  const double low = table.periods.front(), high = table.periods.back();
  if (period < low * 0.999 || period > high * 1.001)
    throw InputError(
        asked.file.empty() ? Where{file, table.header_line, asked.key} : asked, rounded(period, 4) + " years",
        (table.periods.size() == 1 ? rounded(low, 4) + " years"
                                   : "between " + rounded(low, 4) + " and " + rounded(high, 4) + " years") +
            ", as the table " + (asked.file.empty() ? "" : file + " ") + "has",
        "choose a return period that the table covers, or give the depth itself, depth = "
        "\"...\", without the table");
  DepthDuration curve;
  for (std::size_t k = 0; k < table.durations.size(); ++k) {
    const double depth = depth_at(table, k, period);
    const bool rises = k == 0 || (table.durations[k] > table.durations[k - 1] && depth >= curve.depth.back());
    if (!rises || !(table.durations[k] > 0) || !(depth > 0) || !std::isfinite(depth))
      throw InputError({file, table.lines[k], ""}, "a depth or duration that does not rise",
                       "durations in rising order with depths that grow", "look at this row");
    curve.duration.push_back(table.durations[k]);
    curve.depth.push_back(depth);
  }
  return curve;
}

Table read_either(const std::filesystem::path& path) {
  const std::string content = read_text(path);
  const std::string low = lower(content);
  const bool labelled = low.find("by duration for") != std::string::npos ||
                        low.find("precipitation frequency estimates") != std::string::npos;
  return labelled ? read_labelled(content, path.string()) : read_plain(path);
}
} // namespace

DepthDuration read_depth_duration(const std::filesystem::path& path, double return_period,
                                  const Where& asked) {
  const Table table = read_either(path);
  check(table, path.string());
  return curve_of(table, path.string(), return_period, asked);
}

std::vector<double> return_periods(const std::filesystem::path& path) {
  const Table table = read_either(path);
  check(table, path.string());
  curve_of(table, path.string(), table.periods.front(), {});
  return table.periods;
}

} // namespace lowspot::rain
