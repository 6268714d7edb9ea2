#include <lowspot/terrain/whole_fall.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/base/text.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/terrain/plane.hpp>

namespace lowspot::terrain {

void warn_of_whole_fall(const site::Site& site, Ground& ground) {
  constexpr double steepest = 0.3, flattest = 0.001; // m/m
  constexpr double smallest = 5;                     // m: a piece of ground below this may well be level
  constexpr std::size_t enough = 10000;              // places to fit a plane to
  const Grid& grid = ground.grid;
  std::vector<Point3> places;
  double low = std::numeric_limits<double>::infinity(), high = -low;
  const std::size_t every = std::max<std::size_t>(1, grid.cells() / enough);
  for (std::size_t c = 0; c < grid.cells(); ++c) {
    if (!ground.active[c]) continue;
    low = std::min(low, ground.elevation[c]), high = std::max(high, ground.elevation[c]);
    if (c % every == 0) places.push_back({grid.x(grid.column(c)), grid.y(grid.row(c)), ground.elevation[c]});
  }
  const Box box = bounds(site.outline);
  const double extent = distance(box.low, box.high);
  const auto percent = [](double fall) { return rounded(100 * fall, 2) + " %"; };
  const std::string unit = site.units;
  if (extent > smallest && high - low < flattest * extent)
    ground.warnings.push_back(
        "All ground lies within " + rounded((high - low) / site.unit, 2) + " " + unit + " over a yard " +
        rounded(extent / site.unit, 3) + " " + unit +
        " across, flatter than grading makes it, so water stays where it falls; check that "
        "elevations are in " +
        unit + ", as [ground] says or the site.");
  const std::optional<Plane> plane = fit_plane(places);
  const double fall = plane ? std::hypot(plane->slope_x, plane->slope_y) : 0;
  if (extent <= smallest || fall <= steepest) return;
  const bool feet = unit == "ft";
  ground.warnings.push_back("The ground as a whole falls by " + percent(fall) +
                            ", steeper than can be mown, so water rushes off it; check that "
                            "elevations and places are both in " +
                            unit + " (with elevations in " + (feet ? "inches" : "feet") + " it would be " +
                            percent(fall * (feet ? 1 / 12.0 : 0.3048)) + ").");
}

} // namespace lowspot::terrain
