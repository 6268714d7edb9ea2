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
  // The bed would rise by 5 mm in the next cell.
  CHECK(at_east_edge(-0.01, 0, 0.004).discharge == 0);
  const double slope = flat_edge_slope; // the water surface slopes inward under an even depth
  CHECK_THAT(at_east_edge(-0.01, 0, 0.015).discharge, WithinRel(manning(0.010, slope), 1e-9));
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
