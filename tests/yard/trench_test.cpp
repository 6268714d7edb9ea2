#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/yard/drain_layout.hpp>
#include <lowspot/yard/trench.hpp>

using namespace lowspot;

TEST_CASE("the trench covers its length times its width, to round-off, at any angle") {
  SimpleYard yard = simple_yard(40, 30, 0.25, [](double, double) { return 10.0; });
  site::Design design = simple_drain(yard);
  const auto flat = [](Point) { return 10.0; };
  for (const Polyline& path : {Polyline{{2, 3.1}, {8, 3.1}}, Polyline{{2, 2}, {6, 5}}}) {
    design.runs[0].path = path;
    design.outlets[0].at = path.back();
    const drain::Layout layout = yard::resolve_drain(yard.site, design, flat).layout;
    const drain::Drain drain(layout, flat);
    const yard::TrenchCover cover = yard::cover_trenches(yard.ground, drain.stations(), layout);
    double area = 0, shares = 0;
    for (double piece : cover.area) area += piece;
    for (double share : cover.share) shares += share;
    CHECK_THAT(area, WithinRel(0.3 * length(path), 1e-9));
    CHECK_THAT(shares * yard.ground.grid.cell_area(), WithinRel(area, 1e-9));
  }
}

TEST_CASE("both walls meet the soil beside the trench, whatever its width") {
  SimpleYard yard = simple_yard(40, 30, 0.25, [](double, double) { return 10.0; });
  site::Design design = simple_drain(yard);
  const auto flat = [](Point) { return 10.0; };
  for (double width : {0.1, 0.3, 0.55}) {
    design.runs[0].path = {{2, 3.1}, {8, 3.1}};
    design.outlets[0].at = {8, 3.1};
    design.runs[0].trench_width = width;
    const drain::Layout layout = yard::resolve_drain(yard.site, design, flat).layout;
    const drain::Drain drain(layout, flat);
    std::vector<double> left(drain.stations().size(), 0.0), right = left;
    for (const yard::WallContact& wall : yard::find_wall_contacts(yard.ground, drain.stations(), layout)) {
      const double y = yard.ground.grid.y(yard.ground.grid.row(wall.cell));
      (y > 3.1 ? left : right)[wall.station] += wall.share;
      CHECK(std::abs(y - 3.1) > width / 2 - 0.125);
      CHECK(wall.distance >= 0.0625);
      CHECK(wall.distance <= 0.25);
    }
    for (std::size_t s = 0; s < left.size(); ++s) {
      CHECK_THAT(left[s], WithinAbs(0.5, 1e-12));
      CHECK_THAT(right[s], WithinAbs(0.5, 1e-12));
    }
  }
}
