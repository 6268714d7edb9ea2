#include "catch.hpp"
#include "simple_yard.hpp"

#include <algorithm>
#include <cmath>

#include <lowspot/study/catchments.hpp>
#include <lowspot/terrain/open_sky.hpp>

using namespace lowspot;
using namespace lowspot::study;

namespace {
constexpr double mm = 1e-3;
// Three pits in a row (A and B merge, both spill into C), impervious, open in the east.
SimpleYard pits() {
  static constexpr double row[17] = {0,   0,   0,   0,   0.5, 0.5, 0.2,  0.2, 0.2,
                                     0.8, 0.8, 0.1, 0.1, 0.1, 0.1, 0.65, 0.65};
  SimpleYard yard = simple_yard(17, 6, 1, [](double x, double) { return row[static_cast<int>(x)]; });
  open_side(yard, terrain::Side::east);
  return yard;
}
std::vector<RainToFill> fill(const SimpleYard& yard, double intensity) {
  const auto map = terrain::map_low_spots(yard.ground);
  return rain_to_fill(yard.site, yard.ground, map, find_catchments(yard.site, yard.ground, map), intensity);
}
std::vector<double> sorted(const std::vector<RainToFill>& fills, double RainToFill::*which) {
  std::vector<double> values;
  for (const RainToFill& each : fills) values.push_back(each.*which);
  std::sort(values.begin(), values.end());
  return values;
}
} // namespace

TEST_CASE("three pits: 60 mm/h fill them at 3, 4.8333, 6.1111 and 9.3333 h") {
  const auto hours = sorted(fill(pits(), 60 * mm / 3600), &RainToFill::as_it_starts);
  REQUIRE(hours.size() == 4);
  const double expected[] = {3.0, 29.0 / 6, 55.0 / 9, 28.0 / 3};
  for (int k = 0; k < 4; ++k) CHECK_THAT(hours[k] / 0.06, WithinAbs(expected[k], 1e-6));
}

TEST_CASE("small hollows hold back their depth from the rim, not from under the pool") {
  SimpleYard yard = pits();
  const auto without = sorted(fill(yard, 60 * mm / 3600), &RainToFill::wet);
  yard.site.lawn.depression_storage = 2 * mm;
  const auto with = sorted(fill(yard, 60 * mm / 3600), &RainToFill::wet);
  // B: 30 m2; of them 24 under the pool of AB and 6 on the high sill.
  CHECK_THAT(with[0] - without[0], WithinAbs(2 * mm * 6 / 30, 1e-9));
}

TEST_CASE("catchments by cover are exact to the outline, roofs land where their downspouts do") {
  SimpleYard yard = pits();
  site::Area patio;
  patio.name = "patio";
  patio.impervious = true;
  yard.site.areas = {patio};
  terrain::Coverage coverage; // 1.25 m2 in A, 0.5 m2 on the way out
  coverage.cells = {0, 1, 16};
  coverage.fractions = {1, 0.25, 0.5};
  yard.ground.areas = {coverage};
  site::Building house;
  house.name = "house";
  house.outline = {{20, 20}, {22, 20}, {22, 22}, {20, 22}};
  site::Downspout spout;
  spout.name = "west downspout";
  spout.at = {0.5, 0.5};
  spout.roof_area = 20;
  spout.to = "ground";
  house.downspouts = {spout};
  yard.site.buildings = {house};
  yard.ground.buildings.resize(1);
  const auto map = terrain::map_low_spots(yard.ground);
  const Catchments all = find_catchments(yard.site, yard.ground, map);
  double patio_area = 0, lawn = 0;
  for (std::size_t b = 0; b < map.basins.size(); ++b) {
    if (all.dry[b].empty()) continue;
    patio_area += all.dry[b][0] + all.under[b][0];
    lawn += all.dry[b][1] + all.under[b][1];
  }
  CHECK_THAT(patio_area, WithinAbs(1.25, 1e-12));
  CHECK_THAT(patio_area + lawn, WithinAbs(96, 1e-9)); // all but the last column
  REQUIRE(all.roofs.size() == 1);
  CHECK(all.roofs[0].roof_area == 20);
  CHECK(map.basins[all.roofs[0].basin].bottom == 0);
  // The roof's 20 m2 on A's 30: A and B are full after 17.4 m3 on 80 m2.
  const auto fills = rain_to_fill(yard.site, yard.ground, map, all, 60 * mm / 3600);
  CHECK_THAT(fills[all.roofs[0].basin].all_runs_off, WithinAbs(std::min(17.4 / 80, 12.0 / 50), 1e-9));
}

TEST_CASE("soil that takes in all of the rain leaves its low spot empty; wet ground fills sooner") {
  SimpleYard yard =
      simple_yard(9, 9, 0.5, [](double x, double y) { return 1 + 0.02 * std::hypot(x - 2.25, y - 2.25); });
  open_side(yard, terrain::Side::east);
  make_pervious(yard);
  yard.site.soils[0].conductivity = {2e-6, 2e-6, 2e-6};
  const auto slow = fill(yard, 1.9e-6), fast = fill(yard, 2e-5);
  CHECK(slow[0].as_it_starts > 0.02); // only once the topsoil is full
  CHECK(slow[0].wet < slow[0].as_it_starts);
  CHECK(fast[0].wet <= fast[0].as_it_starts);
  CHECK(fast[0].all_runs_off < fast[0].wet);
  yard.site.soils[0].tight_conductivity = {1, 1, 1};
  CHECK(std::isinf(fill(yard, 1.9e-6)[0].as_it_starts));
}

TEST_CASE("catchments of a closed yard add up to its ground and its roofs, wherever a house cuts the cells") {
  SimpleYard yard = simple_yard(12, 10, 0.5, [](double x, double y) {
    return 0.01 * (x - 4) * (x - 4) + 0.02 * (y - 2) * (y - 2) + 0.05 * std::cos(4 * x);
  });
  terrain::Ground& ground = yard.ground;
  site::Building house;
  house.name = "house";
  const double west = 1.13, east = 3.62, south = 1.71, north = 4.04;
  house.outline = {{west, south}, {east, south}, {east, north}, {west, north}};
  yard.site.buildings = {house};
  site::Area patio;
  patio.name = "patio";
  patio.impervious = true;
  yard.site.areas = {patio}; // all that is open west of x = 2 m
  const auto shared = [](double from, double to, double low, double high) {
    return std::max(0.0, std::min(to, high) - std::max(from, low));
  };
  std::vector<terrain::CellKind> kinds(ground.grid.cells(), terrain::CellKind::ground);
  ground.buildings.resize(1);
  ground.areas.resize(1);
  for (std::size_t c = 0; c < ground.grid.cells(); ++c) {
    const double x = ground.grid.x(ground.grid.column(c)), y = ground.grid.y(ground.grid.row(c));
    const double covered =
        shared(x - 0.25, x + 0.25, west, east) * shared(y - 0.25, y + 0.25, south, north) / 0.25;
    if (covered > 0) {
      ground.buildings[0].cells.push_back(static_cast<int>(c));
      ground.buildings[0].fractions.push_back(covered);
    }
    if (covered > 0.5) {
      kinds[c] = terrain::CellKind::building;
      ground.active[c] = 0;
    }
    if (x < 2 && covered < 1) {
      ground.areas[0].cells.push_back(static_cast<int>(c));
      ground.areas[0].fractions.push_back(1 - covered);
    }
  }
  ground.open_sky = terrain::open_sky(ground, kinds);
  const auto map = terrain::map_low_spots(ground);
  const Catchments all = find_catchments(yard.site, ground, map);
  double open = 0, roofs = 0, spots = 0;
  for (std::size_t b = 0; b < map.basins.size(); ++b)
    for (std::size_t a = 0; a < all.dry[b].size(); ++a) open += all.dry[b][a] + all.under[b][a];
  for (const Catchments::Roof& roof : all.roofs) roofs += roof.roof_area;
  for (const terrain::LowSpot& spot : map.spots) spots += spot.catchment;
  CHECK(map.spots.size() > 1);
  const double house_area = (east - west) * (north - south);
  CHECK_THAT(roofs, WithinRel(house_area, 1e-12));
  CHECK_THAT(open, WithinRel(30 - house_area, 1e-12));
  CHECK_THAT(spots, WithinRel(30 - house_area, 1e-12));
}
