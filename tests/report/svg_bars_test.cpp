#include "catch.hpp"

#include <lowspot/report/svg_bars.hpp>

using namespace lowspot::report;

TEST_CASE("bars are as long as their shares and carry their figures") {
  BarChart chart;
  chart.title = "parts";
  chart.parts = {"<roof>", "patio", "nothing"};
  chart.colors = {{1, 0.5, 0}, {0, 0, 1}, {0, 1, 0}};
  chart.rows = {{"bed", "95 gal", {1, 3, 0}}, {"dry", "", {0, 0, 0}}};
  const std::string svg = bars_svg(chart);
  // 720 wide with 8 at the left and 10 at the right: 702 for the bar.
  CHECK_THAT(svg, ContainsSubstring("width=\"175.5\"") && ContainsSubstring("width=\"526.5\"") &&
                      ContainsSubstring("25 %") && ContainsSubstring("75 %") &&
                      ContainsSubstring("bed: 95 gal<"));
  const auto drawing = svg.find("<svg");
  CHECK(svg.find("&lt;roof&gt;</span>") < drawing); // the legend is text
  CHECK_THAT(svg, ContainsSubstring("&lt;roof&gt;") && !ContainsSubstring("nothing") &&
                      !ContainsSubstring(">dry<"));
  CHECK(svg.find("nan") == std::string::npos);
}

TEST_CASE("no water, no chart") {
  BarChart chart;
  chart.parts = {"roof"};
  chart.colors = {{1, 1, 1}};
  chart.rows = {{"dry", "", {0}}};
  CHECK(bars_svg(chart).empty());
}
