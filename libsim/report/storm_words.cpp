#include <lowspot/report/storm_words.hpp>

#include <algorithm>
#include <cmath>

namespace lowspot::report {
namespace {

constexpr std::size_t told_one_by_one = 2;

} // namespace

std::string storm_words(const site::Site& site, const results::Comparison& all, const Units& units) {
  // The comparison knows the depth of all rain, and its end where no duration was given.
  double depth = all.storm_depth, duration = all.storm_duration;
  for (const site::LaterStorm& later : site.storm.then) {
    depth -= later.depth;
    if (!std::isfinite(site.storm.duration)) duration -= later.after + later.duration;
  }
  return amount(std::max(0.0, depth), units.depth, 3) + " of rain in " + clock_text(std::max(0.0, duration));
}

std::string later_storms_words(const site::Site& site, const Units& units) {
  const std::vector<site::LaterStorm>& then = site.storm.then;
  if (then.size() > told_one_by_one) {
    double depth = 0;
    for (const site::LaterStorm& later : then) depth += later.depth;
    return ", then " + amount(depth, units.depth, 3) + " in " + std::to_string(then.size()) +
           " later storms, the first after " + clock_text(then.front().after) + " without rain";
  }
  std::string text;
  for (const site::LaterStorm& later : then)
    text += ", then " + amount(later.depth, units.depth, 3) + " in " + clock_text(later.duration) +
            " after " + clock_text(later.after) + " without rain";
  return text;
}

} // namespace lowspot::report
