#include <lowspot/rain/hyetograph.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include <lowspot/base/error.hpp>
#include <lowspot/base/limits.hpp>
#include <lowspot/base/quantity.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/rain/depth_duration.hpp>
#include <lowspot/rain/gauge.hpp>
#include <lowspot/rain/hard_rain.hpp>
#include <lowspot/rain/nested.hpp>
#include <lowspot/rain/nrcs.hpp>
#include <lowspot/site/usual_storm.hpp>

namespace lowspot::rain {
namespace {
constexpr double block_length = 300; // s, of nested storms
constexpr double day = 86400;

double usual(const char* written, Dimension dimension) {
  return parse_quantity(written, dimension).value;
}

double usual_duration() {
  return usual(site::usual_storm_duration, Dimension::time);
}

void append(Hyetograph& rain, double duration, double intensity) {
  if (duration <= 0) return;
  if (rain.time.empty()) rain.time.push_back(0);
  constexpr double parts = 1e6; // of a second: the parts of a storm add up to times as they are written
  rain.time.push_back(std::round((rain.time.back() + duration) * parts) / parts);
  rain.intensity.push_back(intensity);
}

void append_blocks(Hyetograph& rain, const std::vector<double>& depths, double duration) {
  const double step = duration / static_cast<double>(depths.size());
  for (double depth : depths) append(rain, step, depth / step);
}

void append_nrcs(Hyetograph& rain, const std::string& type, double depth) {
  const DayDistribution shape = nrcs_distribution(type);
  for (std::size_t k = 1; k < shape.hour.size(); ++k) {
    const double step = (shape.hour[k] - shape.hour[k - 1]) * 3600;
    append(rain, step, depth * (shape.share[k] - shape.share[k - 1]) / step);
  }
}

[[noreturn]] void unknown_pattern(const site::Site& site, const std::string& pattern) {
  const std::vector<std::string> known = {"uniform", "nested",   "nrcs-i", "nrcs-ia",
                                          "nrcs-ii", "nrcs-iii", "gauge",  "blocks"};
  const std::string near = nearest(pattern, known);
  throw InputError({site.file.string(), site.storm.line, "storm.pattern"}, "'" + pattern + "'",
                   "one of uniform, nested, nrcs-i, nrcs-ia, nrcs-ii, nrcs-iii, gauge, blocks",
                   near.empty() ? "choose one of them" : "did you mean '" + near + "'?");
}

// One storm of known depth and duration.
void append_storm(Hyetograph& rain, const site::Site& site, const std::string& pattern, double depth,
                  double duration) {
  const bool nrcs = pattern.rfind("nrcs-", 0) == 0 && !nrcs_distribution(pattern.substr(5)).hour.empty();
  if (nrcs && std::isfinite(duration) && std::abs(duration - day) > 1)
    rain.warnings.push_back("storm: the NRCS distributions last 24 hours; the duration given was not used");
  if (pattern == "uniform") {
    append(rain, duration, depth / duration);
  } else if ((pattern == "nested" || pattern.empty()) && depth <= 0) {
    append(rain, duration, 0); // no curve of depths goes through nothing
  } else if (pattern == "nested" || pattern.empty()) {
    append_blocks(
        rain,
        alternating_blocks(usual_curve(depth, duration), duration, std::min(block_length, duration / 4)),
        duration);
  } else if (nrcs) {
    append_nrcs(rain, pattern.substr(5), depth);
  } else {
    unknown_pattern(site, pattern);
  }
}

// The first storm, from a table of depth by duration. A depth of its own holds, and the table gives the
// shape.
void append_from_table(Hyetograph& rain, const site::Site& site) {
  const site::Storm& storm = site.storm;
  if (!std::isfinite(storm.return_period))
    throw InputError({site.file.string(), storm.line, "storm.return_period"},
                     "a table without a return period", "return_period = \"10 yr\"",
                     "write the mean time between such storms, with \"yr\"");
  DepthDuration curve =
      read_depth_duration(site.folder / storm.table, storm.return_period,
                          {site.file.string(), storm.return_period_line, "storm.return_period"});
  const bool single = curve.duration.size() == 1;
  const double first = curve.duration.front();
  if (single) { // one depth says nothing of other durations
    rain.warnings.push_back("storm: the table has the depth of " + rounded(first / 3600, 3) +
                            " h alone; those of other durations follow the usual shape of storms");
    curve = usual_curve(curve.depth[0], first);
  } else {
    curve = with_usual_bursts(std::move(curve));
  }
  const bool nrcs = storm.pattern.rfind("nrcs-", 0) == 0;
  const bool nested = storm.pattern == "nested" || storm.pattern.empty();
  const double duration = nrcs ? day : std::isfinite(storm.duration) ? storm.duration : usual_duration();
  const double depth = std::isfinite(storm.depth) ? storm.depth : curve.at(duration);
  const double scale = depth / curve.at(duration);
  if (!single && (nested ? first > 1.001 * block_length : duration < 0.999 * first))
    rain.warnings.push_back("storm: the table begins at " + rounded(first / 60, 4) +
                            " min; shorter bursts follow the usual shape of storms, " +
                            depth_in_both_units(scale * curve.at(block_length)) +
                            " in 5 min; add the table's rows of 5 to 30 min if it has them");
  if (!single && duration > curve.duration.back() * 1.001)
    rain.warnings.push_back("storm: the table ends at " + rounded(curve.duration.back() / 3600, 3) +
                            " hours; depths beyond are carried on at its last slope");
  if (const std::string words = near_the_hardest(depth, duration); !words.empty())
    rain.warnings.push_back("storm: " + words +
                            "; check the unit of the table, which is inches where its headings name none");
  if (!nested) return append_storm(rain, site, storm.pattern, depth, duration);
  std::vector<double> blocks =
      alternating_blocks(curve, duration, std::min(block_length, curve.duration.front()));
  for (double& block : blocks) block *= scale;
  append_blocks(rain, blocks, duration);
}
} // namespace

double Hyetograph::depth() const {
  double sum = 0;
  for (std::size_t k = 0; k < intensity.size(); ++k) sum += intensity[k] * (time[k + 1] - time[k]);
  return sum;
}

double Hyetograph::end_of_rain() const {
  for (std::size_t k = intensity.size(); k-- > 0;)
    if (intensity[k] > 0) return time[k + 1];
  return 0;
}

double Hyetograph::peak_intensity() const {
  return intensity.empty() ? 0 : *std::max_element(intensity.begin(), intensity.end());
}

double Hyetograph::at(double t) const {
  if (time.empty() || t < time.front() || t >= time.back()) return 0;
  return intensity[std::upper_bound(time.begin(), time.end(), t) - time.begin() - 1];
}

double Hyetograph::next_change(double t) const {
  for (auto next = std::upper_bound(time.begin(), time.end(), t); next != time.end(); ++next) {
    const std::size_t k = next - time.begin();
    const double before = k == 0 ? 0 : intensity[k - 1];
    const double after = k < intensity.size() ? intensity[k] : 0;
    if (before != after) return *next;
  }
  return std::numeric_limits<double>::infinity();
}

Hyetograph make_hyetograph(const site::Site& site) {
  const site::Storm& storm = site.storm;
  Hyetograph rain;
  if (storm.pattern == "gauge" || !storm.gauge.empty()) {
    if (storm.gauge.empty())
      throw InputError({site.file.string(), storm.line, "storm.gauge"}, "no gauge file",
                       "gauge = \"rain.csv\"", "name the file, or choose another pattern");
    rain = read_gauge(site.folder / storm.gauge);
  } else if (storm.pattern == "blocks" || !storm.blocks.empty()) {
    for (const site::RainBlock& block : storm.blocks) append(rain, block.duration, block.intensity);
  } else if (!storm.table.empty()) {
    append_from_table(rain, site);
  } else {
    double depth = storm.depth, duration = storm.duration;
    const bool nrcs = storm.pattern.rfind("nrcs-", 0) == 0;
    if (!std::isfinite(depth)) {
      depth = usual(site::usual_storm_depth, Dimension::length);
      rain.warnings.push_back("storm: no depth given, so " + std::string(site::usual_storm_depth) +
                              " was taken; give the depth of the storm that matters");
    }
    if (!std::isfinite(duration)) duration = nrcs ? day : usual_duration();
    append_storm(rain, site, storm.pattern, depth, duration);
  }
  for (const site::LaterStorm& later : storm.then) {
    append(rain, later.after, 0);
    append_storm(rain, site, later.pattern, later.depth, later.duration);
  }
  if (rain.time.empty()) rain.time = {0, 1}, rain.intensity = {0};
  if (rain.time.back() + storm.dry > limits::longest_time)
    throw InputError({site.file.string(), storm.line, "storm"},
                     "rain and dry time of " + rounded((rain.time.back() + storm.dry) / day, 4) + " days",
                     "three years at most", "cut the record to the storm that matters");
  return rain;
}

} // namespace lowspot::rain
