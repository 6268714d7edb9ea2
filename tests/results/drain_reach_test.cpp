#include <lowspot/results/drain_reach.hpp>

#include <cmath>

#include "catch.hpp"

using namespace lowspot;
using namespace lowspot::results;

namespace {
const Grid grid{200, 100, 0.1, 0, 0};
const Polyline path = {{2, 5}, {18, 5}}; // eastward: left is north

// Thickness by the distance north (positive) of the trench.
template <class Thickness>
std::vector<float> field(Thickness thickness) {
  std::vector<float> values(grid.cells());
  for (std::size_t c = 0; c < grid.cells(); ++c)
    values[c] = static_cast<float>(thickness(grid.y(grid.row(c)) - 5));
  return values;
}
} // namespace

TEST_CASE("the reach is where the drawdown curve passes the half") {
  const Mask active(grid.cells(), 1);
  const auto before = field([](double) { return 0.1; });
  // 1 - exp(-d / 0.8) from the wall: half at 0.8 ln 2 = 0.5545 m north; 1.109 m south.
  const auto after = field([](double y) {
    const double d = std::max(0.0, std::abs(y) - 0.15), scale = y > 0 ? 0.8 : 1.6;
    return 0.1 * (1 - std::exp(-d / scale));
  });
  const DrainReach reach = reach_of_trench(grid, active, path, 0.15, before, after);
  CHECK(reach.left == Approx(0.8 * std::log(2)).margin(0.03));
  CHECK(reach.right == Approx(1.6 * std::log(2)).margin(0.03));
  const DrainReach other_way = reach_of_trench(grid, active, {{18, 5}, {2, 5}}, 0.15, before, after);
  CHECK(other_way.right == Approx(reach.left));
}

TEST_CASE("nothing lowered, nothing reached; nothing wet, nothing to lower") {
  const Mask active(grid.cells(), 1);
  const auto wet = field([](double) { return 0.1; }), dry = field([](double) { return 0.0; });
  CHECK(reach_of_trench(grid, active, path, 0.15, wet, wet).left == 0);
  CHECK(reach_of_trench(grid, active, path, 0.15, dry, dry).left == 0);
  CHECK(reach_of_trench(grid, active, path, 0.15, wet, dry).left > 4.5); // to the limit of the yard
}

TEST_CASE("the map after the asked time, of both runs, gives the reach") {
  Comparison comparison;
  comparison.grid = grid;
  comparison.active.assign(grid.cells(), 1);
  comparison.end_of_rain = 100;
  comparison.designs.resize(2);
  const auto wet = field([](double) { return 0.1; }), dry = field([](double) { return 0.0; });
  comparison.designs[0].frames = {{50, {}, wet, {}}, {200, {}, wet, {}}};
  DesignRecord& design = comparison.designs[1];
  design.frames = {{50, {}, dry, {}}, {200, {}, dry, {}}};
  design.drains.resize(1);
  design.profiles.resize(1);
  design.profiles[0].path = path;
  DesignRecord copy = design;
  find_reach(comparison, copy, {0.3}, 50);
  CHECK(copy.drains[0].reach.time == 200);
  CHECK(copy.drains[0].reach.left > 4);
  copy = design;
  find_reach(comparison, copy, {0.3}, 500); // no map so late
  CHECK(std::isnan(copy.drains[0].reach.time));
  copy = design;
  find_reach(comparison, copy, {0}, 50); // a carrier lowers nothing
  CHECK(std::isnan(copy.drains[0].reach.time));
}
