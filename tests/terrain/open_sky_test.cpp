#include <numeric>

#include "catch.hpp"

#include <lowspot/terrain/coverage.hpp>
#include <lowspot/terrain/open_sky.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {

Ground ground_of(const site::Site& site, int nx, int ny, std::vector<CellKind>& kinds) {
  Ground ground;
  ground.grid = {nx, ny, 1, 0, 0};
  kinds = cell_kinds(ground.grid, site);
  for (const CellKind kind : kinds) ground.active.push_back(kind == CellKind::ground);
  std::vector<Polygon> outlines;
  for (const site::Building& building : site.buildings) outlines.push_back(building.outline);
  ground.buildings = visible_coverage(ground.grid, outlines);
  return ground;
}

} // namespace

TEST_CASE("what a roof leaves open of its cells drains to the ground beside it", "[open_sky]") {
  site::Site site = plain_site(rectangle(0, 0, 6, 5), 1);
  site.buildings.push_back({"house", rectangle(1.7, 1, 4.6, 3.2), {}}); // 2.9 by 2.2
  std::vector<CellKind> kinds;
  const Ground ground = ground_of(site, 6, 5, kinds);
  const Field sky = open_sky(ground, kinds);
  // Cells 2 to 4 of rows 1 and 2 count as building.
  CHECK_THAT(sky[ground.grid.index(1, 1)], WithinAbs(0.7, 1e-12));         // its own open part
  CHECK_THAT(sky[ground.grid.index(5, 1)], WithinAbs(1 + 0.4 / 2, 1e-12)); // half that of the cell before it
  CHECK_THAT(sky[ground.grid.index(4, 0)], WithinAbs(1 + 0.4 / 2, 1e-12)); // the other half
  CHECK_THAT(sky[ground.grid.index(2, 3)], WithinAbs(0.8, 1e-12));
  CHECK(sky[ground.grid.index(3, 2)] == 0);
  CHECK_THAT(std::accumulate(sky.begin(), sky.end(), 0.0), WithinAbs(30 - 2.9 * 2.2, 1e-12));
}

TEST_CASE("where only corners touch, rain goes over them", "[open_sky]") {
  site::Site site = plain_site(rectangle(0, 0, 3, 3), 1);
  for (const Polygon& outline : {rectangle(0, 1, 3, 1.9), rectangle(1, 0, 2, 1), rectangle(1, 2, 2, 3)})
    site.buildings.push_back({"house", outline, {}});
  std::vector<CellKind> kinds;
  const Ground ground = ground_of(site, 3, 3, kinds);
  const Field sky = open_sky(ground, kinds);
  CHECK_THAT(sky[ground.grid.index(0, 2)], WithinAbs(1 + 0.1 / 2 + 0.1 / 4, 1e-12));
  CHECK_THAT(std::accumulate(sky.begin(), sky.end(), 0.0), WithinAbs(4 + 0.3, 1e-12));
}

TEST_CASE("a building beyond the outline brings no rain of the neighbour's", "[open_sky]") {
  site::Site site = plain_site(rectangle(0, 0, 2, 2), 1);
  site.buildings.push_back({"shed", rectangle(1, 0, 2.3, 1), {}});
  std::vector<CellKind> kinds;
  const Ground ground = ground_of(site, 4, 2, kinds);
  const Field sky = open_sky(ground, kinds);
  CHECK_THAT(std::accumulate(sky.begin(), sky.end(), 0.0), WithinAbs(3, 1e-12));
}
