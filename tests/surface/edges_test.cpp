#include <lowspot/surface/edges.hpp>

#include <cmath>

#include <lowspot/surface/friction.hpp>

#include "catch.hpp"
#include "yards.hpp"

using namespace lowspot::surface;

namespace {

// Discharge at the middle of the east edge of a ground that falls by these slopes, under an even depth.
EdgeFlow at_east_edge(double fall, double across, double depth) {
  yards::Terrain terrain =
      yards::rectangle(5, 5, 0.5, 0.03, [=](double x, double y) { return -fall * x - across * y; });
  terrain.open_faces.push_back({14, 1});
  Workspace work(terrain, {});
  for (std::size_t c = 0; c < 25; ++c) work.set_mobile(c, depth);
  return edge_flow(work.outfalls.front(), work, 0.5);
}

double manning(double depth, double slope) {
  return std::pow(depth, 5.0 / 3.0) * std::sqrt(slope) / 0.03;
}

} // namespace

TEST_CASE("Water leaves at normal depth", "[surface]") {
  CHECK_THAT(at_east_edge(0.02, 0, 0.01).discharge, WithinRel(manning(0.01, 0.02), 1e-9));
  // Aslant: only the share of the vector that points outward.
  CHECK_THAT(at_east_edge(0.012, 0.016, 0.01).discharge, WithinRel(manning(0.01, 0.02) * 0.6, 1e-9));
  CHECK_THAT(at_east_edge(0.012, -0.016, 0.01).discharge, WithinRel(manning(0.01, 0.02) * 0.6, 1e-9));
  CHECK(at_east_edge(0.02, 0, 0).discharge == 0);
  CHECK_THAT(at_east_edge(20, 0, 0.01).discharge,
             WithinRel(froude_limit * std::sqrt(gravity * 0.01) * 0.01, 1e-9));
}

TEST_CASE("A flat edge drains, one that rises holds back", "[surface]") {
  CHECK_THAT(at_east_edge(0, 0, 0.01).discharge, WithinRel(manning(0.01, flat_edge_slope), 1e-9));
  // The edge, half a cell away, lies 2.5 mm higher.
  CHECK(at_east_edge(-0.01, 0, 0.002).discharge == 0);
  const double slope = flat_edge_slope; // the water surface slopes inward under an even depth
  CHECK_THAT(at_east_edge(-0.01, 0, 0.0125).discharge, WithinRel(manning(0.010, slope), 1e-9));
}

TEST_CASE("The slope beyond an edge follows the ground alone, without a jump", "[surface]") {
  Outfall outfall;
  const auto beyond = [&](double fall) {
    outfall.fall = fall;
    return slope_beyond(outfall);
  };
  for (const double fall : {flat_bed, 0.002, 0.005, 0.3}) CHECK(beyond(fall) == fall);
  CHECK(beyond(0) == flat_edge_slope);
  CHECK(beyond(-0.2) == flat_edge_slope);
  for (double fall = -1e-4; fall < 6e-3; fall += 1e-5) {
    CAPTURE(fall);
    CHECK(std::abs(beyond(fall + 1e-5) - beyond(fall)) < 4.01e-5);
  }
  // Water that falls toward the edge leaves no faster for it.
  yards::Terrain terrain = yards::rectangle(5, 1, 0.5, 0.03, [](double, double) { return 0.0; });
  yards::open_side(terrain, 1);
  Workspace work(terrain, {});
  for (std::size_t c = 0; c < 5; ++c) work.set_mobile(c, c < 4 ? 0.05 : 0.01);
  CHECK_THAT(edge_flow(work.outfalls.front(), work, 0.5).discharge,
             WithinRel(manning(0.01, flat_edge_slope), 1e-9));
}

TEST_CASE("Banks beside an outlet do not count as slope", "[surface]") {
  // A channel one cell wide between banks half a metre high, against a wall at its south.
  yards::Terrain terrain =
      yards::rectangle(5, 2, 0.5, 0.03, [](double x, double y) { return (y > 0.5 ? 0.5 : 0.0) - 0.02 * x; });
  terrain.open_faces.push_back({4, 1});
  Workspace work(terrain, {});
  for (std::size_t c = 0; c < 5; ++c) work.set_mobile(c, 0.01);
  CHECK_THAT(edge_flow(work.outfalls.front(), work, 0.5).discharge, WithinRel(manning(0.01, 0.02), 1e-9));
}

TEST_CASE("A step of the ground before an edge is no slope beyond it", "[surface]") {
  const auto outfall = [](double step) {
    yards::Terrain terrain =
        yards::rectangle(5, 1, 0.5, 0.03, [=](double x, double) { return -0.02 * x + (x > 2 ? step : 0.0); });
    terrain.open_faces.push_back({4, 1});
    return Workspace(terrain, {}).outfalls.front();
  };
  // A strip that stands above the slab before it, or below it, falls outward as the slab does.
  for (const double step : {0.1, -0.15}) {
    CHECK_THAT(outfall(step).fall, WithinAbs(0.02, 1e-9));
    const yards::Terrain terrain =
        yards::rectangle(5, 1, 0.5, 0.03, [=](double x, double) { return -0.02 * x + (x > 2 ? step : 0.0); });
    CHECK_THAT(outfall(step).sill, WithinAbs(Workspace(terrain, {}).bed[4], 1e-9));
  }
  // An even bank of 1 in 4 rises on by half a cell.
  yards::Terrain bank = yards::rectangle(5, 1, 0.5, 0.03, [](double x, double) { return 0.25 * x; });
  bank.open_faces.push_back({4, 1});
  const Workspace work(bank, {});
  CHECK_THAT(work.outfalls.front().sill - work.bed[4], WithinAbs(0.0625, 1e-9));
  // What depressions hold makes no slope.
  yards::Terrain rough = yards::rectangle(5, 1, 0.5, 0.03, [](double x, double) { return -0.01 * x; });
  rough.depression_storage[4] = 0.008;
  rough.open_faces.push_back({4, 1});
  const Workspace held(rough, {});
  CHECK_THAT(held.outfalls.front().fall, WithinAbs(0.01, 1e-9));
  CHECK_THAT(held.outfalls.front().sill, WithinAbs(held.bed[4], 1e-9));
}

TEST_CASE("Over a wall on an open edge no more passes than at critical depth", "[surface]") {
  // Smooth ground that falls 10 % to a curb 0.15 m high.
  yards::Terrain terrain = yards::rectangle(5, 1, 0.5, 0.011, [](double x, double) { return -0.1 * x; });
  terrain.open_faces.push_back({4, 1});
  terrain.crest_x[5] = terrain.elevation[4] + 0.15;
  Workspace work(terrain, {});
  const auto over = [&](double head) {
    work.set_mobile(4, 0.15 + head);
    return edge_flow(work.outfalls.front(), work, 0.5).discharge;
  };
  const auto critical = [](double head) {
    return std::pow(2.0 / 3, 1.5) * std::sqrt(gravity) * std::pow(head, 1.5);
  };
  for (const double head : {0.01, 0.05, 0.11}) CHECK_THAT(over(head), WithinRel(critical(head), 1e-9));
  // Water that stands three times as high above it as it above the ground does not feel it.
  CHECK(over(0.45) > 2 * critical(0.45));
}
