#include "catch.hpp"

#include <lowspot/terrain/natural_ground.hpp>
#include <lowspot/terrain/slabs.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

TEST_CASE("under a slab the ground is carried across from all round it", "[natural_ground]") {
  // A plane lot is a solution of Laplace's equation: the skin must find it again whatever the slab's own
  // slope.
  site::Site site = plain_site(rectangle(0, 0, 24, 20), 1);
  site.areas.push_back(patio(rectangle(4, 5, 18, 14)));
  site.areas[0].surface = {{4, 5, 10.4}, {18, 5, 10.4}, {4, 14, 10.1}};
  const auto lot = [](double x, double y) { return 10 - 0.03 * x + 0.02 * y; };
  Ground ground = bare_ground(24, 20, 1, [&](int i, int j) { return lot(i + 0.5, j + 0.5); });
  lay_slabs(site, ground);
  find_natural_ground(site, ground);
  for (std::size_t c = 0; c < ground.grid.cells(); ++c) {
    const double x = ground.grid.x(ground.grid.column(c)), y = ground.grid.y(ground.grid.row(c));
    CHECK_THAT(ground.natural_elevation[c], WithinAbs(lot(x, y), 1e-4));
    const bool slab = x > 4 && x < 18 && y > 5 && y < 14;
    CHECK(ground.slab_thickness[c] == (slab ? site.areas[0].slab_thickness : 0));
    CHECK(ground.base_depth[c] == (slab ? site.areas[0].base_depth : 0));
  }
}

TEST_CASE("a slab against a house takes the ground of its open sides, one without open ground keeps its own",
          "[natural_ground]") {
  site::Site site = plain_site(rectangle(0, 0, 10, 10), 1);
  site.areas.push_back(patio(rectangle(2, 5, 8, 10)));
  site.areas[0].surface = {{2, 5, 11}, {8, 5, 11}, {2, 10, 11.5}};
  Ground ground = bare_ground(10, 10, 1, [](int, int) { return 9.0; });
  for (int i = 0; i < 10; ++i) ground.active[ground.grid.index(i, 9)] = 0; // the house
  lay_slabs(site, ground);
  find_natural_ground(site, ground);
  for (std::size_t c = 0; c < ground.grid.cells(); ++c)
    if (ground.active[c]) CHECK_THAT(ground.natural_elevation[c], WithinAbs(9.0, 1e-4));

  site.areas[0].outline = rectangle(0, 0, 10, 10);
  Ground paved = bare_ground(10, 10, 1, [](int, int) { return 9.0; });
  lay_slabs(site, paved);
  find_natural_ground(site, paved);
  CHECK(paved.natural_elevation == paved.elevation);
  CHECK(paved.slab_thickness == Field(100, 0.0));
}

TEST_CASE("a lawn laid to a plane is the ground itself", "[natural_ground]") {
  site::Site site = plain_site(rectangle(0, 0, 6, 6), 1);
  site.areas.push_back(patio(rectangle(1, 1, 5, 5)));
  site.areas[0].impervious = false;
  site.areas[0].surface = {{1, 1, 10}, {5, 1, 10.2}, {1, 5, 10.1}};
  Ground ground = bare_ground(6, 6, 1, [](int, int) { return 9.0; });
  lay_slabs(site, ground);
  find_natural_ground(site, ground);
  CHECK(ground.natural_elevation == ground.elevation);
}
