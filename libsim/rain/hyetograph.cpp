#include <lowspot/rain/hyetograph.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/base/error.hpp>
#include <lowspot/base/limits.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/rain/depth_duration.hpp>
#include <lowspot/rain/gauge.hpp>
#include <lowspot/rain/hard_rain.hpp>
#include <lowspot/rain/nested.hpp>
#include <lowspot/rain/nrcs.hpp>

namespace lowspot::rain {
namespace {
constexpr double block_length = 300; // s, of nested storms
constexpr double day = 86400;

void append(Hyetograph& rain, double duration, double intensity) {
  if (duration <= 0) return;
  if (rain.time.empty()) rain.time.push_back(0);
  rain.time.push_back(rain.time.back() + duration);
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

// The first storm, from a table of depth by duration.
void append_from_table(Hyetograph& rain, const site::Site& site) {
  const site::Storm& storm = site.storm;
  double period = storm.return_period;
  if (!std::isfinite(period)) {
    period = 10;
    rain.warnings.push_back("storm: no return_period given with the table, so the 10-year storm was taken");
  }
  DepthDuration curve = read_depth_duration(site.folder / storm.table, period);
  const bool single = curve.duration.size() == 1;
  if (single) { // one depth says nothing of other durations
    rain.warnings.push_back("storm: the table has the depth of " + rounded(curve.duration[0] / 3600, 3) +
                            " h alone; those of other durations follow the usual shape of storms");
    curve = usual_curve(curve.depth[0], curve.duration[0]);
  }
  const bool nrcs = storm.pattern.rfind("nrcs-", 0) == 0;
  const double duration = nrcs ? day : std::isfinite(storm.duration) ? storm.duration : 6 * 3600.0;
  if (!single && duration > curve.duration.back() * 1.001)
    rain.warnings.push_back("storm: the table ends at " + rounded(curve.duration.back() / 3600, 3) +
                            " hours; depths beyond are carried on at its last slope");
  if (const std::string words = near_the_hardest(curve.at(duration), duration); !words.empty())
    rain.warnings.push_back("storm: " + words +
                            "; check the unit of the table, which is inches where its headings name none");
  if (storm.pattern == "nested" || storm.pattern.empty())
    append_blocks(rain, alternating_blocks(curve, duration, std::min(block_length, curve.duration.front())),
                  duration);
  else
    append_storm(rain, site, storm.pattern, curve.at(duration), duration);
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
      depth = 2.6 * 0.0254;
      rain.warnings.push_back(
          "storm: no depth given, so 2.6 in was taken; give the depth of the storm that matters");
    }
    if (!std::isfinite(duration)) duration = nrcs ? day : 6 * 3600.0;
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
