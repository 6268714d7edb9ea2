#include <lowspot/site/files.hpp>

#include <algorithm>
#include <filesystem>

#include <lowspot/base/csv.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
namespace fs = std::filesystem;

struct Column {
  std::string heading;
  double factor = 0; // SI value of 1 in the heading's unit; 0: the cells say their own
};

Column find_column(const CsvTable& table, const std::string& name, Dimension dimension) {
  for (const std::string& heading : table.columns) {
    if (heading.rfind(name, 0) != 0) continue;
    const std::string unit = unit_in_heading(heading, name);
    if (unit.empty()) return {heading, 0};
    const ParsedQuantity one = parse_quantity("1 " + unit, dimension);
    if (!one.ok)
      throw InputError({table.file, table.header_line, heading}, "the unit \"" + unit + "\"",
                       "a unit of " + dimension_name(dimension),
                       "Write the heading as " + name + " and a unit in each cell, such as " +
                           dimension_example(dimension) + ".");
    return {heading, one.value};
  }
  std::string all;
  for (const std::string& heading : table.columns) all += (all.empty() ? "" : ", ") + heading;
  throw InputError({table.file, table.header_line, ""}, "the columns " + all, "a column `" + name + "`",
                   "Name the columns in the first line: time,flow.");
}

double cell_value(const CsvTable& table, const CsvRow& row, const Column& column, Dimension dimension,
                  double bare_unit, bool& assumed) {
  if (column.factor > 0) return table.number(row, column.heading) * column.factor;
  const std::string text = table.text(row, column.heading);
  const ParsedQuantity parsed = parse_quantity(text, dimension);
  if (parsed.ok) return parsed.value;
  const bool bare = !text.empty() && text.find_first_not_of("+-.0123456789eE") == std::string::npos;
  if (bare) {
    assumed = true;
    return table.number(row, column.heading) * bare_unit;
  }
  throw InputError({table.file, row.line, column.heading}, "\"" + text + "\" (" + parsed.problem + ")",
                   a_quantity(dimension) + " with its unit",
                   "Write for example " + dimension_example(dimension) + ".");
}
} // namespace

std::string unit_in_heading(const std::string& heading, const std::string& name) {
  std::string rest = heading.substr(name.size());
  for (std::size_t at = rest.find("_per_"); at != std::string::npos; at = rest.find("_per_"))
    rest = rest.substr(0, at).append("/").append(rest, at + 5);
  std::string unit;
  for (const char sign : rest)
    if (std::string("[]()_ ").find(sign) == std::string::npos)
      unit += sign;
    else if (sign == '_' && !unit.empty())
      unit += ' ';
  return trim(unit);
}

std::string file_named(const TableReader& table, const std::string& key) {
  const std::string name = table.text(key, "a file name in quotes");
  const fs::path folder = table.context().site.folder;
  std::error_code code;
  if (fs::is_regular_file(folder / name, code)) return name;
  std::vector<std::string> present;
  for (const auto& entry : fs::directory_iterator(folder.empty() ? "." : folder, code))
    if (entry.is_regular_file(code)) present.push_back(entry.path().filename().string());
  const std::string near = nearest(name, present);
  table.fail(key, "no file \"" + name + "\"", "a file beside the site file",
             near.empty()
                 ? "Put the file into " + (folder.empty() ? std::string("this folder") : folder.string()) +
                       ", or correct its name."
                 : "Did you mean \"" + near + "\"?");
}

TimeSeries read_time_series(const fs::path& file, const std::string& name, Dimension dimension,
                            double bare_unit, bool elevations) {
  const CsvTable table = read_csv(file);
  const Column time = find_column(table, "time", Dimension::time);
  const Column value = find_column(table, name, dimension);
  TimeSeries series;
  for (const CsvRow& row : table.rows) {
    const double t = cell_value(table, row, time, Dimension::time, 1, series.time_assumed);
    const double v = cell_value(table, row, value, dimension, bare_unit, series.value_assumed);
    if (t < 0 || (!series.time.empty() && t <= series.time.back()))
      throw InputError({table.file, row.line, time.heading}, "\"" + table.text(row, time.heading) + "\"",
                       "times from zero on, each later than the one before", "Sort the rows by time.");
    if (v < 0 && !elevations)
      throw InputError({table.file, row.line, value.heading}, "\"" + table.text(row, value.heading) + "\"",
                       a_quantity(dimension) + " of zero or more", "Remove the minus sign.");
    series.time.push_back(t);
    series.value.push_back(v);
  }
  series.units_assumed = series.time_assumed || series.value_assumed;
  return series;
}

void warn_of_short_series(const TableReader& table, const std::string& key, const TimeSeries& series) {
  constexpr double shortest_usual = 600; // s
  const Storm& storm = table.context().site.storm;
  double rains = 0; // s; a gauge's record is not known here
  for (const RainBlock& block : storm.blocks) rains += block.duration;
  if (storm.duration > 0) rains = std::max(rains, storm.duration);
  if (!series.time_assumed || series.time.size() < 2 || series.time.back() >= std::max(shortest_usual, rains))
    return;
  table.warn(
      key,
      "its table is over after " + rounded(series.time.back(), 3) + " s" +
          (rains > series.time.back() && series.time.back() >= shortest_usual ? ", before the rain is" : "") +
          ", since times without a unit are seconds, and its last figure holds from then on; name "
          "the column time_min or time_h if they are others");
}

} // namespace lowspot::site
