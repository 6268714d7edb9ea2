#include "catch.hpp"

#include <algorithm>

#include <lowspot/terrain/low_spot_map.hpp>

#include "filling.hpp"
#include "three_pits.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

TEST_CASE("three pits: what merges into what, at what level, and where each spills", "[low_spot_map]") {
  const LowSpotMap map = map_low_spots(three_pits());
  REQUIRE(map.spots.size() == 2);
  REQUIRE(map.basins.size() == 4);
  const auto named = [&](double bottom, double level) {
    for (std::size_t b = 0; b < map.basins.size(); ++b)
      if (map.basins[b].bottom == bottom && map.basins[b].spill_level == level) return static_cast<int>(b);
    return -1;
  };
  const int a = named(0.0, 0.5), b = named(0.2, 0.5), ab = named(0.0, 0.8), c = named(0.1, 0.65);
  REQUIRE(std::min({a, b, ab, c}) >= 0);
  CHECK_THAT(map.basins[a].volume, WithinAbs(12.0, 1e-12));
  CHECK_THAT(map.basins[a].area, WithinAbs(24, 1e-12));
  CHECK_THAT(map.basins[b].volume, WithinAbs(5.4, 1e-12));
  CHECK_THAT(map.basins[ab].volume, WithinAbs(33.6, 1e-12));
  CHECK_THAT(map.basins[c].volume, WithinAbs(13.2, 1e-12));
  CHECK(map.basins[a].parent == ab);
  CHECK(map.basins[b].parent == ab);
  CHECK(map.basins[ab].parent == -1);
  CHECK(map.basins[a].spills_to == b);
  CHECK(map.basins[b].spills_to == a);
  CHECK(map.basins[ab].spills_to == c);
  CHECK(map.basins[c].spills_to == -1);
  CHECK(ab > std::max(a, b));
  CHECK_FALSE(map.spots[0].closed);
  const Grid& grid = three_pits().grid;
  const auto cells = [&](int basin) {
    return std::count(map.basin_of_cell.begin(), map.basin_of_cell.end(), basin);
  };
  CHECK(cells(a) == 5 * 6);
  CHECK(cells(b) == 5 * 6);
  CHECK(cells(ab) == 0); // ground sheds to single basins
  CHECK(cells(c) == 6 * 6);
  CHECK(map.spot_of_cell(grid.index(16, 0)) == 0);
  CHECK(map.spot_of_cell(grid.index(0, 0)) == map.basins[a].spot);
}

TEST_CASE("nested volumes, levels and catchments agree with the low spots on rough ground",
          "[low_spot_map]") {
  for (unsigned seed = 1; seed <= 12; ++seed) {
    const Ground ground = rough_ground(31, 23, seed, 0.05, seed % 2 ? 0.2 : 0.0, seed % 3 ? 0.0 : 0.03);
    const LowSpotMap map = map_low_spots(ground, 0.06);
    const auto spots = find_low_spots(ground, 0.06);
    REQUIRE(map.spots.size() == spots.size());
    std::vector<double> shed(spots.size() + 1, 0);
    for (std::size_t c = 0; c < map.basin_of_cell.size(); ++c) {
      const int basin = map.basin_of_cell[c];
      if (basin >= 0) CHECK(map.basins[basin].parts[0] == -1);
      shed[map.spot_of_cell(c)] += ground.grid.cell_area();
    }
    for (std::size_t s = 0; s < spots.size(); ++s)
      CHECK_THAT(shed[s + 1], WithinAbs(spots[s].catchment, 1e-9));
    std::vector<int> wholes(spots.size(), 0);
    for (std::size_t b = 0; b < map.basins.size(); ++b) {
      const NestedBasin& basin = map.basins[b];
      if (basin.spills_to >= 0) CHECK(map.basins[basin.spills_to].parts[0] == -1);
      if (basin.parent < 0) {
        ++wholes[basin.spot - 1];
        CHECK(basin.volume == map.spots[basin.spot - 1].volume);
      } else {
        const NestedBasin& parent = map.basins[basin.parent];
        CHECK(parent.spot == basin.spot);
        CHECK(parent.spill_level >= basin.spill_level);
        CHECK(basin.spill_level - basin.bottom > 0.06);
        CHECK(basin.spills_to >= 0);
        CHECK(map.basins[basin.spills_to].spot == basin.spot);
        CHECK(static_cast<int>(b) < basin.parent);
      }
      if (basin.parts[0] >= 0) {
        const NestedBasin &one = map.basins[basin.parts[0]], &two = map.basins[basin.parts[1]];
        CHECK_THAT(one.spill_level, WithinAbs(two.spill_level, 1e-12));
        CHECK(basin.volume >= one.volume + two.volume - 1e-12);
      }
    }
    for (const int count : wholes) CHECK(count == 1);
  }
}

TEST_CASE("one bowl with walls all round is closed; one cell and a plane have nothing", "[low_spot_map]") {
  const auto bowl = map_low_spots(
      bare_ground(9, 9, 1, [](int i, int j) { return 0.1 * std::max(std::abs(i - 4), std::abs(j - 4)); }));
  REQUIRE(bowl.spots.size() == 1);
  CHECK(bowl.spots[0].closed);
  REQUIRE(bowl.basins.size() == 1);
  CHECK(bowl.basins[0].spills_to == -1);
  CHECK(map_low_spots(bare_ground(1, 1, 1, [](int, int) { return 3.0; })).spots.empty());
  Ground plane = bare_ground(8, 5, 1, [](int i, int) { return 0.1 * i; });
  open_side(plane, Side::west);
  const auto none = map_low_spots(plane);
  CHECK(none.basins.empty());
  CHECK(none.basin_of_cell == std::vector<int>(40, -1));
}
