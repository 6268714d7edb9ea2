#include "catch.hpp"

#include <lowspot/terrain/covers.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
Ground covered_ground(const site::Site& site, int nx, int ny, double cell) {
  Ground ground;
  ground.grid = {nx, ny, cell, 0, 0};
  lay_covers(site, ground);
  return ground;
}
} // namespace

TEST_CASE("figures of a cut cell are averaged by what is seen", "[covers]") {
  site::Site site = plain_site(rectangle(0, 0, 4, 2), 1);
  site.areas.push_back(patio(rectangle(0, 0, 1.25, 2)));
  const Ground ground = covered_ground(site, 4, 2, 1);
  CHECK_THAT(ground.manning_n[0], WithinAbs(0.013, 1e-15));
  CHECK_THAT(ground.manning_n[1], WithinAbs(0.25 * 0.013 + 0.75 * 0.2, 1e-15));
  CHECK_THAT(ground.manning_n[2], WithinAbs(0.2, 1e-15));
  CHECK_THAT(ground.manning_n_deep[1], WithinAbs(0.25 * 0.013 + 0.75 * 0.1, 1e-15));
  CHECK_THAT(ground.depression_storage[1], WithinAbs(0.25 * 0.001 + 0.75 * 0.004, 1e-15));
  CHECK_THAT(ground.interception[1], WithinAbs(0.75 * 0.001, 1e-15));
  CHECK_THAT(ground.vegetation_height[1], WithinAbs(0.75 * 0.05, 1e-15));
  CHECK_THAT(ground.pervious[0], WithinAbs(0, 1e-15));
  CHECK_THAT(ground.pervious[1], WithinAbs(0.75, 1e-15));
  CHECK(ground.cover[0] == 0);
  CHECK(ground.cover[1] == -1);
}

TEST_CASE("cover and soil go to the largest share, the pervious area is exact", "[covers]") {
  site::Site site = plain_site(rectangle(0, 0, 3, 3), 0.7);
  site.areas.push_back(patio(rectangle(0.3, 0.3, 2.0, 2.2)));
  site::Area bed = patio(rectangle(1.4, 1.0, 2.9, 2.9));
  bed.impervious = false;
  bed.soil = 1;
  site.areas.push_back(bed);
  const Ground ground = covered_ground(site, 5, 5, 0.7);
  double pervious = 0;
  for (double share : ground.pervious) pervious += share * 0.49;
  // The yard less the patio less the corner that the bed hides; cells on the limit, 0.2 m wide of it, count
  // in full: the grid is 3.5 m wide.
  CHECK_THAT(pervious, WithinAbs(3.5 * 3.5 - (1.7 * 1.9 - 0.6 * 1.2), 1e-12));
  CHECK(ground.soil[ground.grid.index(3, 3)] == 1);
  CHECK(ground.cover[ground.grid.index(3, 3)] == 1);
  CHECK(ground.soil[ground.grid.index(1, 1)] == 0);
  CHECK(ground.cover[ground.grid.index(1, 1)] == 0);
  CHECK(ground.cover[ground.grid.index(4, 4)] == -1);
}

TEST_CASE("a building lies over areas, and its share of a cell takes no water in", "[covers]") {
  site::Site site = plain_site(rectangle(0, 0, 4, 4), 1);
  site.areas.push_back(patio(rectangle(0, 0, 4, 4)));
  site.areas[0].impervious = false;
  site.buildings.push_back({"house", rectangle(1, 1, 2.5, 4), {}});
  const Ground ground = covered_ground(site, 4, 4, 1);
  double roof = 0, seen = 0;
  for (double share : ground.buildings[0].fractions) roof += share;
  for (double share : ground.areas[0].fractions) seen += share;
  CHECK_THAT(roof, WithinAbs(4.5, 1e-12));
  CHECK_THAT(seen, WithinAbs(16 - 4.5, 1e-12));
  const std::size_t half = ground.grid.index(2, 2), whole = ground.grid.index(1, 2);
  CHECK_THAT(ground.pervious[half], WithinAbs(0.5, 1e-12));
  CHECK_THAT(ground.manning_n[half], WithinAbs(0.013, 1e-12)); // of the open half, all patio
  CHECK(ground.pervious[whole] == 0);
  CHECK(ground.manning_n[whole] > 0);
}

TEST_CASE("joints count by the share of a cell that their slab covers", "[covers]") {
  site::Site site = plain_site(rectangle(0, 0, 4, 2), 1);
  site.areas.push_back(patio(rectangle(0, 0, 1.25, 2)));
  CHECK(covered_ground(site, 4, 2, 1).joint_intake[0] == 0);
  site.areas[0].joint_share = 0.02;
  site.areas[0].joint_conductivity = 1e-5;
  const Ground ground = covered_ground(site, 4, 2, 1);
  CHECK_THAT(ground.jointed[0], WithinAbs(1, 1e-15));
  CHECK_THAT(ground.jointed[1], WithinAbs(0.25, 1e-15));
  CHECK_THAT(ground.joint_intake[0], WithinAbs(2e-7, 1e-20));
  CHECK_THAT(ground.joint_intake[1], WithinAbs(5e-8, 1e-20));
  CHECK(ground.joint_intake[2] == 0);
  CHECK_THAT(ground.pervious[0], WithinAbs(0, 1e-15));
}

TEST_CASE("what lies beyond the limit of the yard has no part in its last cells", "[covers]") {
  // Paved to its limits, which cut the last column in the middle: all of it is paving, none of it lawn.
  site::Site site = plain_site(rectangle(0, 0, 3.6, 2), 1);
  site.areas.push_back(patio(rectangle(0, 0, 3.6, 2)));
  const Ground paved = covered_ground(site, 4, 2, 1);
  for (std::size_t cell = 0; cell < 8; ++cell) {
    CHECK_THAT(paved.manning_n[cell], WithinAbs(0.013, 1e-12));
    CHECK_THAT(paved.depression_storage[cell], WithinAbs(0.001, 1e-12));
    CHECK_THAT(paved.interception[cell], WithinAbs(0, 1e-12));
    CHECK_THAT(paved.pervious[cell], WithinAbs(0, 1e-12));
    CHECK(paved.cover[cell] == 0);
  }
  // Half of what is left of it in the yard is lawn: so is half of the cell. What is drawn beyond does not
  // count.
  site.areas[0].outline = rectangle(3.3, -2, 6, 4);
  const Ground half = covered_ground(site, 4, 2, 1);
  CHECK_THAT(half.manning_n[3], WithinAbs(0.5 * 0.013 + 0.5 * 0.2, 1e-12));
  CHECK_THAT(half.pervious[3], WithinAbs(0.5, 1e-12));
  CHECK_THAT(half.pervious[2], WithinAbs(1, 1e-12));
  double seen = 0;
  for (const double share : half.areas[0].fractions) seen += share;
  CHECK_THAT(seen, WithinAbs(0.3 * 2, 1e-12));
  // A house in the last cell takes its own part of it, and of the rest of the yard's part half is paved.
  site.buildings.push_back({"house", rectangle(3, 0, 3.2, 2), {}});
  site.areas[0].outline = rectangle(3.4, 0, 3.6, 2);
  const Ground beside = covered_ground(site, 4, 2, 1);
  CHECK_THAT(beside.manning_n[3], WithinAbs(0.5 * 0.013 + 0.5 * 0.2, 1e-12));
  CHECK_THAT(beside.pervious[3], WithinAbs(0.5 * 0.8, 1e-12)); // rain falls on four fifths of it
}

TEST_CASE("a cell half of which is covered has the same cover wherever the yard lies", "[covers]") {
  constexpr double foot = 0.3048;
  for (const double move : {0.0, 100.0, 1000.0, 1234.5, 98765.0, 1.5e6}) {
    const auto at = [&](double feet) { return (feet + move) * foot; };
    site::Site site = plain_site(rectangle(at(0), at(0), at(36), at(36)), 2 * foot);
    site::Area bed = patio(rectangle(at(3), at(3), at(13), at(13)));
    bed.impervious = false;
    bed.soil = 1;
    site.areas.push_back(bed);
    Ground ground;
    ground.grid = {18, 18, 2 * foot, at(0), at(0)};
    lay_covers(site, ground);
    CAPTURE(move);
    for (int k = 0; k < 18; ++k) { // of equal shares the cover on top, and the soil that is first in the file
      CHECK(ground.cover[ground.grid.index(k, 4)] == (k >= 1 && k <= 6 ? 0 : -1));
      CHECK(ground.cover[ground.grid.index(4, k)] == (k >= 1 && k <= 6 ? 0 : -1));
      CHECK(ground.soil[ground.grid.index(k, 4)] == (k >= 2 && k <= 5 ? 1 : 0));
    }
  }
}
