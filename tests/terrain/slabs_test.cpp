#include "catch.hpp"

#include <lowspot/terrain/slabs.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

TEST_CASE("a slab is a plane that overrides the survey where it is seen", "[slabs]") {
  site::Site site = plain_site(rectangle(0, 0, 6, 6), 1);
  site.areas.push_back(patio(rectangle(1, 1, 5, 5)));
  site.areas[0].surface = {{1, 1, 10}, {5, 1, 10.2}, {1, 5, 10.1}};
  site.areas.push_back(patio(rectangle(3, 3, 5, 5))); // a bed over the slab, ground as surveyed
  Ground ground = bare_ground(6, 6, 1, [](int, int) { return 9.0; });
  lay_slabs(site, ground);
  for (int j = 0; j < 6; ++j)
    for (int i = 0; i < 6; ++i) {
      const double x = i + 0.5, y = j + 0.5;
      const bool slab = x > 1 && x < 5 && y > 1 && y < 5 && !(x > 3 && y > 3);
      CHECK_THAT(ground.elevation[ground.grid.index(i, j)],
                 WithinAbs(slab ? 10 + 0.05 * (x - 1) + 0.025 * (y - 1) : 9.0, 1e-12));
    }
  CHECK(ground.warnings.empty());
}

TEST_CASE("a bent slab is warned of and shots on one line are refused", "[slabs]") {
  site::Site site = plain_site(rectangle(0, 0, 6, 6), 1);
  site.areas.push_back(patio(rectangle(1, 1, 5, 5)));
  site.areas[0].surface = {{1, 1, 10}, {5, 1, 10}, {5, 5, 10.08}, {1, 5, 10}};
  Ground ground = bare_ground(6, 6, 1, [](int, int) { return 9.0; });
  lay_slabs(site, ground);
  REQUIRE(ground.warnings.size() == 1);
  CHECK_THAT(ground.warnings[0], ContainsSubstring("patio"));
  site.areas[0].surface = {{1, 1, 10}, {3, 3, 10}, {5, 5, 10}};
  CHECK_THAT(problem_of([&] { lay_slabs(site, ground); }), ContainsSubstring("on one line"));
}

TEST_CASE("a slab a storey off its ground is warned of: other units or another benchmark", "[slabs]") {
  site::Site site = plain_site(rectangle(0, 0, 6, 6), 1);
  site.areas.push_back(patio(rectangle(1, 1, 5, 5)));
  const auto laid_at = [&](double z) {
    site.areas[0].surface = {{1, 1, z}, {5, 1, z}, {1, 5, z}};
    Ground ground = bare_ground(6, 6, 1, [](int, int) { return 30.0; });
    lay_slabs(site, ground);
    return ground.warnings;
  };
  CHECK(laid_at(31).empty());
  REQUIRE(laid_at(98.4).size() == 1);
  CHECK_THAT(laid_at(98.4)[0], ContainsSubstring("68.4 m above the ground"));
  REQUIRE(laid_at(0).size() == 1);
  CHECK_THAT(laid_at(0)[0], ContainsSubstring("below the ground") && ContainsSubstring("one benchmark"));
}
