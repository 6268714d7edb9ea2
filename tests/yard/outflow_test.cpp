#include "catch.hpp"
#include "turned_yard.hpp"

#include <array>

#include <lowspot/yard/outflow.hpp>
#include <lowspot/yard/seeps.hpp>
#include <lowspot/yard/setup.hpp>
#include <lowspot/yard/yard.hpp>

using namespace lowspot;

namespace {
// Which side of the yard a face lies nearest to: 0 the head, 1 the foot, 2 and 3 those along the fall.
int side_of(const TurnedYard& turned, double length, double width, const terrain::EdgeFace& edge) {
  const Point at = yard::face_centre(turned.yard.ground.grid, edge);
  const Point in = turned.in_yard(at.x, at.y);
  const std::array<double, 4> gap = {std::abs(in.x), std::abs(in.x - length), std::abs(in.y),
                                     std::abs(in.y - width)};
  return static_cast<int>(std::min_element(gap.begin(), gap.end()) - gap.begin());
}
} // namespace

// Ground that falls by 5 % along the yard: over the limit at its foot goes K H S for each metre, whatever the
// stairs; over its sides, along which it falls, and its head nothing.
TEST_CASE(
    "the stairs of a turned limit pass what its length does, and nothing where the ground falls along it") {
  constexpr double length = 12, width = 8, slope = 0.05;
  for (const double degrees : {0.0, 2.0, 5.0, 10.0, 20.0, 30.0, 45.0, 60.0, 80.0, 90.0, 137.0, 210.0, 301.0})
    for (const double cell : {0.5, 0.2}) {
      TurnedYard turned =
          turned_yard(length, width, degrees, cell, [&](double x, double) { return 10 - slope * x; });
      terrain::Ground& ground = turned.yard.ground;
      for (terrain::EdgeFace& edge : ground.edges) edge.open = true;
      const auto faces = yard::place_outflow(turned.yard.site, ground, ground.elevation);
      REQUIRE(faces.size() == ground.edges.size());
      std::array<double, 4> passed{};
      for (std::size_t f = 0; f < faces.size(); ++f)
        passed[static_cast<std::size_t>(side_of(turned, length, width, ground.edges[f]))] +=
            faces[f].slope * cell;
      CAPTURE(degrees, cell);
      CHECK_THAT(passed[1], WithinAbs(slope * width, slope * 1.42 * cell)); // a stair at either end
      for (const std::size_t side : {0U, 2U, 3U})
        CHECK(passed[side] < slope * 0.71 * cell + 1e-9); // a face in a corner
    }
}

TEST_CASE("along a limit that lies as the cells do the layer goes on as from the inner neighbour") {
  SimpleYard yard = simple_yard(
      6, 5, 0.5, [](double x, double y) { return 1 - 0.03 * x + 0.02 * y + 0.05 * std::sin(3 * x + 2 * y); });
  open_side(yard, terrain::Side::east);
  open_side(yard, terrain::Side::south);
  yard.site.edges.underground = site::EdgeKind::open; // all four
  const Field& z = yard.ground.elevation;
  const Grid& grid = yard.ground.grid;
  for (const perched::OutflowFace& face : yard::place_outflow(yard.site, yard.ground, z)) {
    const std::size_t cell = static_cast<std::size_t>(face.cell);
    const std::size_t inner = face.side == 0   ? cell + 1
                              : face.side == 1 ? cell - 1
                              : face.side == 2 ? cell + grid.nx
                                               : cell - grid.nx;
    CHECK_THAT(face.slope, WithinAbs(std::max(0.0, (z[inner] - z[cell]) / 0.5), 1e-12));
  }
  yard.site.edges.underground = site::EdgeKind::wall;
  CHECK(yard::place_outflow(yard.site, yard.ground, z).empty());
}

// A table of 0.15 m that comes in at the head stays as thick all the way down, between open sides, too.
TEST_CASE("a hillside between open sides keeps its perched water, however the yard lies to the cells") {
  for (const double degrees : {0.0, 5.0, 30.0, 45.0}) {
    TurnedYard turned = turned_yard(10, 6, degrees, 0.5, [](double x, double) { return 10 - 0.05 * x; });
    SimpleYard& yard = turned.yard;
    make_pervious(yard);
    yard.site.soils[0].conductivity = {1e-3, 1e-3, 1e-3};
    yard.site.soils[0].initial_moisture = yard.site.soils[0].field_capacity = 0.35;
    for (terrain::EdgeFace& edge : yard.ground.edges) edge.open = side_of(turned, 10, 6, edge) != 0;
    site::EdgeSeep seep;
    seep.along = {turned.on_map(0, 0), turned.on_map(0, 6)};
    seep.saturated = 0.15;
    yard.site.edges.seeps = {seep};
    yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
    run.advance(3 * 86400.0);
    double least = 1, sum = 0;
    int cells = 0;
    for (std::size_t c = 0; c < run.saturated().size(); ++c) {
      if (!yard.ground.active[c]) continue;
      const Grid& grid = yard.ground.grid;
      const Point in = turned.in_yard(grid.x(grid.column(c)), grid.y(grid.row(c)));
      if (in.x < 7 || in.x > 9) continue; // well down, and off the stairs at its foot
      least = std::min(least, run.saturated()[c]);
      sum += run.saturated()[c];
      ++cells;
    }
    CAPTURE(degrees, least);
    CHECK_THAT(sum / cells, WithinRel(0.15, 0.03));
    CHECK(least > 0.12); // the stairs of the sides make eddies of a cell
  }
}
