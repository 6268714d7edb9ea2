#include <lowspot/yard/held_back.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include <lowspot/base/text.hpp>
#include <lowspot/site/leads_to.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::yard {
namespace {

constexpr double tolerance = 0.005;    // m: a lid flush with the ground is not above it
constexpr double piece_length = 0.1;   // m between places along a trench
constexpr double most_pieces = 10'000; // of one run

// The least that water must stand at before the outlet passes any [m].
double opens_at(const drain::Outlet& outlet) {
  if (outlet.kind == drain::OutletKind::pop_up)
    return std::isfinite(outlet.invert) ? std::max(outlet.level, outlet.invert) + outlet.opening_head
                                        : outlet.level + outlet.opening_head;
  if (outlet.levels.empty()) return outlet.level;
  return *std::min_element(outlet.levels.begin(), outlet.levels.end());
}

// What each run and fitting leads to.
std::vector<site::Way> ways_of(const drain::Layout& layout) {
  std::vector<site::Way> ways;
  for (const drain::Run& run : layout.runs) {
    ways.push_back({run.name, run.to});
    ways.push_back({run.from, run.name});
  }
  for (const drain::Fitting& fitting : layout.fittings) ways.push_back({fitting.name, fitting.link.to});
  return ways;
}

double lowest_ground(const Polyline& path, const std::function<double(Point)>& ground_at) {
  const double whole = length(path);
  const int pieces = static_cast<int>(std::ceil(std::clamp(whole / piece_length, 1.0, most_pieces)));
  double lowest = std::numeric_limits<double>::infinity();
  for (int k = 0; k <= pieces; ++k)
    lowest = std::min(lowest, ground_at(point_along(path, whole * k / pieces)));
  return lowest;
}

std::string elevation(const site::Site& site, double metres) {
  return rounded(metres / site.unit, 6) + " " + site.units;
}

} // namespace

std::vector<std::string> warn_of_held_back(const site::Site& site, const drain::Layout& layout,
                                           const std::function<double(Point)>& ground_at) {
  std::vector<std::string> warnings;
  for (const drain::Outlet& outlet : layout.outlets) {
    const bool pop_up = outlet.kind == drain::OutletKind::pop_up;
    if (!pop_up && outlet.kind != drain::OutletKind::submerged) continue;
    const std::set<std::string> names = site::all_that_lead_to(ways_of(layout), outlet.name);
    double lowest = std::numeric_limits<double>::infinity();
    std::string where;
    const auto look_at = [&](double ground, const std::string& place) {
      if (ground >= lowest) return;
      lowest = ground;
      where = place;
    };
    for (const drain::Run& run : layout.runs)
      if (run.has_trench && names.count(run.name))
        look_at(lowest_ground(run.path, ground_at), "along run '" + run.name + "'");
    for (const drain::Fitting& fitting : layout.fittings)
      if (fitting.mouth && fitting.mouth->takes_in && names.count(fitting.name))
        look_at(fitting.mouth->level, "at '" + fitting.name + "'");
    for (const drain::Tap& tap : layout.taps)
      if (names.count(tap.to)) look_at(tap.mouth.level, "at the foot of downspout '" + tap.name + "'");
    const double level = opens_at(outlet);
    if (!(level > lowest + tolerance)) continue;
    warnings.push_back("outlet '" + outlet.name + "' " +
                       (pop_up ? "opens only when water in the drain stands at "
                               : "lies under water that never falls below ") +
                       elevation(site, level) + ", " +
                       site::written(level - lowest, Dimension::length, site) + " above the lowest ground " +
                       where + " (" + elevation(site, lowest) +
                       "): water comes up there rather than out of it; check " +
                       (pop_up ? "its `lid` and `opening_head`" : "its `level`"));
  }
  return warnings;
}

} // namespace lowspot::yard
