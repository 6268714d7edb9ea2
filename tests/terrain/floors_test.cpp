#include "catch.hpp"

#include <lowspot/terrain/floors.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
// What is said of a house in the middle of a yard that rises from 30 m to 30.5 m along it.
std::vector<std::string> said(double floor) {
  site::Site site = plain_site(rectangle(0, 0, 12, 10), 0.5);
  site.buildings.push_back({"house", rectangle(4, 4, 8, 7), {}});
  site.buildings[0].floor = floor;
  Ground ground = bare_ground(24, 20, 0.5, [](int i, int) { return 30 + 0.5 * i / 23; });
  const Polygon& house = site.buildings[0].outline;
  for (std::size_t c = 0; c < ground.grid.cells(); ++c)
    if (contains(house, {ground.grid.x(ground.grid.column(c)), ground.grid.y(ground.grid.row(c))}))
      ground.active[c] = 0, ground.elevation[c] = 99; // what stands there has no part in it
  warn_of_floors(site, ground);
  return ground.warnings;
}
} // namespace

TEST_CASE("a floor far off the ground beside it is a slip of number or benchmark", "[floors]") {
  const auto low = said(3), high = said(300);
  REQUIRE(low.size() == 1);
  CHECK_THAT(low[0], ContainsSubstring("\"house\": its `floor`, 3 m, lies 27.1 m below the ground"));
  CHECK_THAT(low[0], ContainsSubstring("fails whatever stands there"));
  REQUIRE(high.size() == 1);
  CHECK_THAT(high[0], ContainsSubstring("above the ground"));
}

TEST_CASE("a basement, a floor on a step and a house without a floor are usual", "[floors]") {
  for (const double floor : {27.5, 30.4, 33.0, site::not_given}) CHECK(said(floor).empty());
}
