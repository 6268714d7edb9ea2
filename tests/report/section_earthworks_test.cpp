#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("earth moved is summed by area, cut from fill apart") {
  sample::PageMaker maker;
  lowspot::results::Comparison& all = maker.comparison;
  CHECK(section("earthworks").html(maker.page()).empty()); // nothing is shaped
  lowspot::results::DesignRecord& design = all.designs.back();
  design.own_elevation = all.elevation;
  all.cover.assign(all.elevation.size(), -1);
  // A hundred cells of the open ground 0.1 m down, fifty of the patio 0.06 m up.
  int cut = 0, fill = 0;
  for (std::size_t cell = 0; cell < all.elevation.size(); ++cell) {
    if (!all.active[cell]) continue;
    if (cut < 100) {
      design.own_elevation[cell] -= 0.1;
      ++cut;
    } else if (fill < 50) {
      all.cover[cell] = 0;
      design.own_elevation[cell] += 0.06;
      ++fill;
    }
  }
  REQUIRE(fill == 50);
  all.units = "m";
  const std::string html = section("earthworks").html(maker.page());
  const double cell = all.grid.cell_area();
  const auto row = [&](double area, double down, double up) {
    const Units units = units_for("m");
    const Unit volume{1, "m3"};
    return figure(area, units.area, 3) + "</td><td class=\"n\">" + figure(down, volume) +
           "</td><td class=\"n\">" + figure(down > 0 ? 0.1 : 0, units.depth) + "</td><td class=\"n\">" +
           figure(up, volume) + "</td><td class=\"n\">" + figure(up > 0 ? 0.06 : 0, units.depth) +
           "</td><td class=\"n\">" + figure(down - up, volume) + "</td>";
  };
  CHECK_THAT(html, ContainsSubstring("<td>open ground</td><td class=\"n\">" + row(100 * cell, 10 * cell, 0)));
  CHECK_THAT(html, ContainsSubstring("<td>patio</td><td class=\"n\">" + row(50 * cell, 0, 3 * cell)));
  CHECK_THAT(html,
             ContainsSubstring("<td>in all</td><td class=\"n\">" + row(150 * cell, 10 * cell, 3 * cell)));
}
