#include "catch.hpp"

#include <lowspot/terrain/falls_to_house.hpp>

#include <algorithm>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
constexpr double cell = 0.25;

// A yard 12 m by 10 m with a house along its north, from y = 8, and a patio before it; the ground rises by
// `rise` away from the house.
struct Yard {
  site::Site site = plain_site(rectangle(0, 0, 12, 10), cell);
  Ground ground;

  explicit Yard(double rise, double patio_depth = 4, bool paved = true) {
    site.areas.push_back(patio(rectangle(3, 8 - patio_depth, 9, 8)));
    site.areas[0].impervious = paved;
    site.buildings.push_back({"house", rectangle(2, 8, 10, 10), {}});
    ground = bare_ground(48, 40, cell, [&](int, int j) { return 5 + rise * (8 - (j + 0.5) * cell); });
    const Polygon& house = site.buildings[0].outline;
    for (std::size_t c = 0; c < ground.grid.cells(); ++c)
      if (contains(house, {ground.grid.x(ground.grid.column(c)), ground.grid.y(ground.grid.row(c))}))
        ground.active[c] = 0, ground.elevation[c] = 99; // what stands there has no part in it
    warn_of_falls_to_house(site, ground);
  }
};
} // namespace

TEST_CASE("a patio that falls towards the house is named with its fall and what comes of it") {
  const Yard yard(0.02);
  REQUIRE(yard.ground.warnings.size() == 1);
  const std::string& said = yard.ground.warnings[0];
  CHECK_THAT(said, ContainsSubstring("\"patio\" falls 2 % towards \"house\""));
  CHECK_THAT(said, ContainsSubstring("along 6 m of its wall"));
  CHECK_THAT(said, ContainsSubstring("the rain on it runs to the wall"));
}

TEST_CASE("nothing is said of paving that falls away or is level, of a lawn, or of a kerb's width") {
  for (const double rise : {-0.02, 0.0, 0.004}) CHECK(Yard(rise).ground.warnings.empty());
  CHECK(Yard(0.02, 4, false).ground.warnings.empty());
  CHECK(Yard(0.02, 0.6).ground.warnings.empty());
  CHECK(Yard(0.006).ground.warnings.size() == 1);
}

TEST_CASE("only the first ten feet count, and a bed between the paving and the house ends it") {
  Yard yard(-0.02, 7);
  // Beyond 10 ft the patio may rise as it likes.
  for (std::size_t c = 0; c < yard.ground.grid.cells(); ++c)
    if (yard.ground.grid.y(yard.ground.grid.row(c)) < 8 - 3.3) yard.ground.elevation[c] = 8;
  warn_of_falls_to_house(yard.site, yard.ground);
  CHECK(yard.ground.warnings.empty());
  Yard bed(0.02);
  bed.ground.warnings.clear();
  bed.site.areas.push_back(patio(rectangle(2, 7, 10, 8)));
  bed.site.areas.back().impervious = false;
  warn_of_falls_to_house(bed.site, bed.ground);
  CHECK(bed.ground.warnings.empty());
}

TEST_CASE("the way round of the house's corners is of no matter") {
  Yard yard(0.02);
  yard.ground.warnings.clear();
  std::reverse(yard.site.buildings[0].outline.begin(), yard.site.buildings[0].outline.end());
  warn_of_falls_to_house(yard.site, yard.ground);
  CHECK(yard.ground.warnings.size() == 1);
}
