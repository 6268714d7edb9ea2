#include <lowspot/report/series_chart.hpp>

#include <algorithm>

namespace lowspot::report {
namespace {

bool matches(const std::string& name, const SeriesChoice& choice) {
  return name.size() >= choice.starts.size() + choice.ends.size() &&
         name.compare(0, choice.starts.size(), choice.starts) == 0 &&
         name.compare(name.size() - choice.ends.size(), choice.ends.size(), choice.ends) == 0;
}

std::string part_of(const std::string& name, const SeriesChoice& choice) {
  return name.substr(choice.starts.size(), name.size() - choice.starts.size() - choice.ends.size());
}

// Lines of the series whose names are wanted; `part` is what a line's name has besides that of its design.
template <class Wanted, class Part>
std::vector<ChartLine> lines_of(const Page& page, const Unit& unit, Wanted wanted, Part part) {
  std::vector<ChartLine> lines;
  const auto& designs = page.comparison().designs;
  for (std::size_t k = 0; k < designs.size(); ++k) {
    int count = 0;
    for (const results::Series& series : designs[k].series) {
      if (!wanted(series.name)) continue;
      ChartLine line{designs[k].name + part(series.name), {}, {}, series_class(k), count++};
      for (const double time : designs[k].time) line.x.push_back(time / 3600);
      for (const double value : series.values) line.y.push_back(unit.of(value));
      lines.push_back(std::move(line));
    }
  }
  return lines;
}

} // namespace

std::vector<ChartLine> series_lines(const Page& page, const SeriesChoice& choice, const Unit& unit,
                                    bool name_part) {
  return lines_of(
      page, unit, [&](const std::string& name) { return matches(name, choice); },
      [&](const std::string& name) { return name_part ? ": " + part_of(name, choice) : std::string(); });
}

std::vector<ChartLine> named_series(const Page& page, const std::string& name, const Unit& unit) {
  return lines_of(
      page, unit, [&](const std::string& each) { return each == name; },
      [](const std::string&) { return std::string(); });
}

std::vector<std::string> series_parts(const Page& page, const SeriesChoice& choice) {
  std::vector<std::string> parts;
  for (const auto& design : page.comparison().designs)
    for (const auto& series : design.series)
      if (matches(series.name, choice)) {
        const std::string part = part_of(series.name, choice);
        if (std::find(parts.begin(), parts.end(), part) == parts.end()) parts.push_back(part);
      }
  return parts;
}

void add_rain(Chart& chart, const Page& page) {
  const results::Comparison& all = page.comparison();
  for (std::size_t k = 0; k < std::min(all.rain_time.size(), all.rain_intensity.size()); ++k) {
    const double end = k + 1 < all.rain_time.size() ? all.rain_time[k + 1] : all.end_of_rain;
    if (!(end > all.rain_time[k])) continue;
    chart.bar_from.push_back(all.rain_time[k] / 3600);
    chart.bar_to.push_back(end / 3600);
    chart.bar_value.push_back(all.rain_intensity[k]);
  }
  chart.bar_name = "rain, up to " + amount(all.storm_peak_intensity, page.units().rain);
  chart.mark_x = all.end_of_rain / 3600;
  chart.mark_name = "rain ends";
}

double highest(const std::vector<ChartLine>& lines) {
  double most = 0;
  for (const ChartLine& line : lines)
    for (const double value : line.y) most = std::max(most, value);
  return most;
}

double busy_end(const std::vector<ChartLine>& lines) {
  double end = 0;
  const double small = 0.01 * highest(lines);
  for (const ChartLine& line : lines)
    for (std::size_t k = 0; k < std::min(line.x.size(), line.y.size()); ++k)
      if (line.y[k] > small) end = std::max(end, line.x[k]);
  return 1.1 * end;
}

} // namespace lowspot::report
