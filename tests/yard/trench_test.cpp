#include <numbers>

#include "catch.hpp"
#include "figures.hpp"
#include "simple_yard.hpp"

#include <lowspot/yard/drain_layout.hpp>
#include <lowspot/yard/setup.hpp>
#include <lowspot/yard/trench.hpp>
#include <lowspot/yard/yard.hpp>

using namespace lowspot;

TEST_CASE("the trench covers its length times its width, to round-off, at any angle and round bends") {
  SimpleYard yard = simple_yard(40, 30, 0.25, [](double, double) { return 10.0; });
  site::Design design = simple_drain(yard);
  const auto flat = [](Point) { return 10.0; };
  for (const Polyline& path : {Polyline{{2, 3.1}, {8, 3.1}}, Polyline{{2, 2}, {6, 5}},
                               Polyline{{2, 3.1}, {4.3, 3.1}, {4.3, 6.2}}, // bends within a station
                               Polyline{{2, 2}, {4.3, 2.2}, {5, 3.3}, {4.6, 6}}}) {
    design.runs[0].path = path;
    design.outlets[0].at = path.back();
    const drain::Layout layout = yard::resolve_drain(yard.site, design, flat).layout;
    const drain::Drain drain(layout, flat);
    const yard::TrenchCover cover = yard::cover_trenches(yard.ground, drain.stations(), layout);
    double area = 0, shares = 0;
    for (double piece : cover.area) area += piece;
    for (double share : cover.share) shares += share;
    CHECK_THAT(area, WithinRel(0.3 * length(path), 1e-9));
    // What two pieces share inside a bend of a right angle or less is no cell's twice.
    const double shared = static_cast<double>(path.size() - 2) * 0.15 * 0.15;
    const double taken = shares * yard.ground.grid.cell_area();
    CHECK(taken < area * (1 + 1e-9));
    CHECK(taken > area * (1 - 1e-9) - shared);
  }
}

TEST_CASE(
    "from the column beyond, the way to the wall is as long as the soil between, wherever the wall stands") {
  const double cell = 0.25, middle = 3.1;
  SimpleYard yard = simple_yard(40, 30, cell, [](double, double) { return 10.0; });
  yard.site.soils[0].depth = {0.5, 0.5, 0.5}; // the trench does not cut the way through the column
  site::Design design = simple_drain(yard);
  const auto flat = [](Point) { return 10.0; };
  for (double width : {0.1, 0.3, 0.55, 0.799, 0.801}) {
    design.runs[0].path = {{2, middle}, {8, middle}};
    design.outlets[0].at = {8, middle};
    design.runs[0].trench_width = width;
    const drain::Layout layout = yard::resolve_drain(yard.site, design, flat).layout;
    const drain::Drain drain(layout, flat);
    const perched::Layer layer = yard::make_perched_layer(yard.site, yard.ground);
    // Two walls, north and south: conductances of one of K D = 1, by the column's own contact and the direct
    // one.
    struct Way {
      double own = 0, direct = 0;
    };
    std::vector<Way> north(drain.stations().size()), south = north;
    std::vector<double> fabric(north.size(), 0.0);
    for (const yard::WallContact& wall :
         yard::find_wall_contacts(yard.ground, drain.stations(), layout, layer)) {
      fabric[wall.station] += wall.fabric;
      const double y = yard.ground.grid.y(yard.ground.grid.row(wall.cell));
      const auto beyond = [&](double side) { return side * (y - middle) - width / 2; }; // the wall, outwards
      const bool of_both = std::max(std::abs(beyond(1)), std::abs(beyond(-1))) <= cell / 2;
      for (const double side : {1.0, -1.0}) {
        Way& way = (side > 0 ? north : south)[wall.station];
        if (std::abs(beyond(side)) <= cell / 2)
          way.own += wall.share / (of_both ? 2 : 1) / wall.distance;
        else if (beyond(side) > 0)
          way.direct += wall.share / wall.distance;
      }
    }
    const auto resistance = [&](const Way& way) {
      return 1 / (2 * way.direct + 1 / (1 / (2 * way.own) + cell));
    };
    const auto beyond = [&](double side) { // from the wall to the middle of the column after its own
      const double wall = (middle + side * width / 2) / cell, own = std::floor(wall);
      return (side > 0 ? own + 1.5 - wall : wall - own + 0.5) * cell;
    };
    for (std::size_t s = 0; s < north.size(); ++s) {
      CHECK_THAT(fabric[s], WithinRel(1, 1e-9)); // there is one
      CHECK_THAT(resistance(north[s]), WithinRel(beyond(1), 1e-9));
      CHECK_THAT(resistance(south[s]), WithinRel(beyond(-1), 1e-9));
    }
  }
}

// The trench cuts the way through the column in which it stands, whose soil is that of the side on which its
// middle lies.
TEST_CASE("both walls in one column off its middle: either way is as long as its own soil") {
  const double cell = 0.5, width = 0.305;
  SimpleYard yard = simple_yard(20, 15, cell, [](double, double) { return 10.0; });
  site::Design design = simple_drain(yard, 0.5); // the soil is 0.3 m deep
  const auto flat = [](Point) { return 10.0; };
  for (const double place : {0.40, 0.45, 0.55, 0.60}) {
    const double middle = 3 + place * cell;
    design.runs[0].path = {{2, middle}, {8, middle}};
    design.outlets[0].at = {8, middle};
    design.runs[0].trench_width = width;
    const drain::Layout layout = yard::resolve_drain(yard.site, design, flat).layout;
    const drain::Drain drain(layout, flat);
    const perched::Layer layer = yard::make_perched_layer(yard.site, yard.ground);
    const bool south = place > 0.5; // where the column's middle lies
    std::vector<double> own(drain.stations().size(), 0.0), along = own, across = own, fabric = own;
    for (const yard::WallContact& wall :
         yard::find_wall_contacts(yard.ground, drain.stations(), layout, layer)) {
      const int row = yard.ground.grid.row(wall.cell);
      fabric[wall.station] += wall.fabric;
      (row == 6 ? own : (row < 6) == south ? along : across)[wall.station] += 2 * wall.share / wall.distance;
    }
    const double wall_of_own = south ? middle - width / 2 : middle + width / 2;
    const double wall_across = south ? middle + width / 2 : middle - width / 2;
    for (std::size_t s = 0; s < own.size(); ++s) {
      CAPTURE(place, s);
      CHECK_THAT(fabric[s], WithinRel(1, 1e-9));
      CHECK_THAT(1 / (along[s] + 1 / (1 / own[s] + cell)),
                 WithinRel(std::abs(wall_of_own - (south ? 2.75 : 3.75)), 1e-9));
      CHECK_THAT(1 / across[s], WithinRel(std::abs(wall_across - (south ? 3.75 : 2.75)), 1e-9));
    }
  }
}

TEST_CASE("a trench at any angle meets soil on both sides, and none through a building") {
  SimpleYard yard = simple_yard(40, 30, 0.25, [](double, double) { return 10.0; });
  site::Design design = simple_drain(yard);
  const auto flat = [](Point) { return 10.0; };
  design.runs[0].path = {{2, 2}, {6, 5}};
  design.outlets[0].at = {6, 5};
  const drain::Layout layout = yard::resolve_drain(yard.site, design, flat).layout;
  const drain::Drain drain(layout, flat);
  const perched::Layer layer = yard::make_perched_layer(yard.site, yard.ground);
  std::vector<double> conductance(drain.stations().size(), 0.0);
  for (const yard::WallContact& wall :
       yard::find_wall_contacts(yard.ground, drain.stations(), layout, layer)) {
    CHECK(wall.distance >= 0.125);
    conductance[wall.station] += wall.share / wall.distance;
  }
  for (const double both : conductance) CHECK(both >= 1 / 0.125 * (1 - 1e-9));
  std::fill(yard.ground.active.begin(), yard.ground.active.end(), std::uint8_t(0));
  CHECK(yard::find_wall_contacts(yard.ground, drain.stations(), layout, layer).empty());
}

// Exact: Laplace's equation in a strip of thickness D, head D along the ground, y up the wall, no flow
// through the base; the sum over n of its flows to the wall is 2 D / lambda^2, alternating, lambda = (n +
// 1/2) pi / D.
TEST_CASE("ponded ground gives an open wall what potential theory says, whatever the cells") {
  const double depth = 0.25, conductivity = 1.4e-6;
  double exact = 0;
  for (int n = 0; n < 2000; ++n) {
    const double lambda = (n + 0.5) * std::acos(-1.0) / depth;
    exact += (n % 2 ? -1 : 1) * 2 / (depth * lambda * lambda) / depth;
  }
  CHECK_THAT(exact, WithinAbs(0.742, 1e-3));
  for (const double width : {0.15, 0.3})
    for (const double cell : {0.3, 0.15, 0.075}) {
      const int nx = 4, ny = static_cast<int>(4.8 / cell) + (width > 0.2);
      SimpleYard yard = simple_yard(nx, ny, cell, [](double, double) { return 10.0; });
      make_pervious(yard);
      site::Soil& soil = yard.site.soils[0];
      soil.depth = {depth, depth, depth};
      soil.conductivity = {conductivity, conductivity, conductivity};
      soil.initial_moisture = soil.field_capacity = 0.44;
      soil.drainable_porosity = {0.01, 0.01, 0.01};
      soil.perched_start = depth;
      rain_at(yard, 0.005 / 600, 600);
      site::Design design = simple_drain(yard);
      design.runs[0].path = {{0, ny * cell / 2}, {nx * cell, ny * cell / 2}};
      design.outlets[0].at = design.runs[0].path[1];
      design.runs[0].trench_width = width;
      design.runs[0].cap = {"lid", 1e-15, 0.1}; // all that comes, comes through the soil
      yard::Yard run(yard.site, yard.ground, yard.rain, &design);
      const auto given = [&] {
        double sum = 0;
        for (const double water : run.cell_books().to_drain) sum += water * cell * cell;
        return sum;
      };
      run.advance(5400);
      const double before = given();
      run.advance(7200);
      CHECK(run.depth()[0] > 0.003);
      CHECK(run.saturated()[run.ground().grid.index(1, ny / 2)] <
            0.9 * depth);                                              // nothing stays under the trench
      const double flow = (given() - before) / 1800 / (nx * cell) / 2; // m2/s of one wall
      const double share = flow / (conductivity * depth);
      CHECK_THAT(share, WithinRel(exact, 0.2));
      figures::record("yard", "ponded ground beside a trench", "flow to a wall, as a share of K D", exact,
                      share, figures::share(0.2));
    }
}

// From a pit to the trench that leads to its middle there is no soil, and the cells have the trench up to it.
TEST_CASE("a trench has its walls and its cells up to the pit that it leads to") {
  SimpleYard yard = simple_yard(40, 30, 0.25, [](double, double) { return 10.0; });
  site::Design design = simple_drain(yard);
  const auto flat = [](Point) { return 10.0; };
  for (const Point& foot : {Point{8, 3.1}, Point{6.5, 5.6}}) {
    design.runs[0].path = {{2, 3.1}, foot};
    design.outlets[0].kind = "dry well";
    design.outlets[0].at = foot;
    design.outlets[0].well = {0.36 * std::numbers::pi, 1.2 * std::numbers::pi, 1.5, 0.4,
                              1e-6}; // 0.6 m to its rim
    const drain::Layout layout = yard::resolve_drain(yard.site, design, flat).layout;
    const drain::Drain drain(layout, flat);
    double area = 0, both_walls = 0;
    for (double piece : yard::cover_trenches(yard.ground, drain.stations(), layout).area) area += piece;
    const perched::Layer layer = yard::make_perched_layer(yard.site, yard.ground);
    for (const yard::WallContact& wall :
         yard::find_wall_contacts(yard.ground, drain.stations(), layout, layer))
      both_walls += wall.fabric * drain.stations()[wall.station].length;
    const double whole = length(design.runs[0].path), to_wall = std::sqrt(0.36 - 0.15 * 0.15);
    const double shared = 0.15 * to_wall + 0.36 * std::asin(0.15 / 0.6);
    CHECK_THAT(area, WithinAbs(0.3 * whole - shared, 0.03 * shared));
    CHECK_THAT(both_walls, WithinAbs(whole - to_wall, 0.0625)); // walls are looked at every quarter of a cell
  }
}
