#include <lowspot/results/hydrographs_csv.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/base/csv_text.hpp>
#include <lowspot/base/text.hpp>

namespace lowspot::results {
namespace {

std::vector<double> all_times(const Comparison& comparison) {
  std::vector<double> times;
  for (const DesignRecord& design : comparison.designs)
    times.insert(times.end(), design.time.begin(), design.time.end());
  std::sort(times.begin(), times.end());
  times.erase(std::unique(times.begin(), times.end()), times.end());
  return times;
}

} // namespace

double rain_at(const Comparison& comparison, double time) {
  const auto& times = comparison.rain_time;
  const auto next = std::upper_bound(times.begin(), times.end(), time);
  if (next == times.begin() || (comparison.end_of_rain > 0 && time >= comparison.end_of_rain)) return 0;
  const auto step = static_cast<std::size_t>(next - times.begin()) - 1;
  return step < comparison.rain_intensity.size() ? comparison.rain_intensity[step] : 0;
}

double value_at(const std::vector<double>& times, const std::vector<double>& values, double time) {
  const std::size_t count = std::min(times.size(), values.size());
  if (count == 0) return std::numeric_limits<double>::quiet_NaN();
  const auto end = times.begin() + static_cast<std::ptrdiff_t>(count);
  const auto next = std::lower_bound(times.begin(), end, time);
  if (next == end) return values[count - 1];
  const auto right = static_cast<std::size_t>(next - times.begin());
  if (right == 0 || times[right] == time) return values[right];
  const double share = (time - times[right - 1]) / (times[right] - times[right - 1]);
  return values[right - 1] + share * (values[right] - values[right - 1]);
}

std::string hydrographs_csv(const Comparison& comparison) {
  std::string text = "time_s,rain_m_per_s";
  for (const DesignRecord& design : comparison.designs)
    for (const Series& series : design.series) text += ',' + csv_text(design.name + ':' + series.name);
  text += '\n';
  for (const double time : all_times(comparison)) {
    text += number_text(time) + ',' + number_text(rain_at(comparison, time));
    for (const DesignRecord& design : comparison.designs)
      for (const Series& series : design.series) {
        const double value = value_at(design.time, series.values, time);
        text += ',';
        if (std::isfinite(value)) text += number_text(value);
      }
    text += '\n';
  }
  return text;
}

} // namespace lowspot::results
