#include "catch.hpp"

#include <lowspot/report/svg_chart.hpp>

using namespace lowspot::report;

TEST_CASE("ticks are round and cover the range") {
  CHECK(ticks(0, 10, 5) == std::vector<double>{0, 2, 4, 6, 8, 10});
  CHECK(ticks(0, 0.9, 10).size() == 10);
  CHECK(ticks(99.7, 100.6, 6).front() == Approx(99.8));
  CHECK(ticks(1, 1, 5).empty());
  CHECK(coordinate(3.04) == "3");
  CHECK(coordinate(-2.55) != "-2.55");
}

TEST_CASE("a chart says what it shows and draws each line with its class") {
  Chart chart;
  chart.title = "<flow>";
  chart.description = "d";
  chart.lines = {{"as is", {0, 1, 2}, {0, 5, 0}, 0}, {"<x>", {0, 1, 2}, {0, 2, 0}, 1}};
  chart.bar_from = {0, 1};
  chart.bar_to = {1, 2};
  chart.bar_value = {1, 2};
  chart.bar_name = "rain";
  const std::string svg = chart_svg(chart);
  CHECK_THAT(svg, ContainsSubstring("<title>&lt;flow&gt;</title><desc>d</desc>") &&
                      ContainsSubstring("class=\"line s1\"") && ContainsSubstring("&lt;x&gt;") &&
                      ContainsSubstring("role=\"img\""));
  CHECK(svg.find("nan") == std::string::npos);
  CHECK(svg.find("inf") == std::string::npos);
}

TEST_CASE("the highest value lies inside the frame and the scale ends where it is told") {
  Chart chart;
  chart.lines = {{"a", {0, 5, 10}, {0, 4, 100}, 0}};
  chart.x_end = 5; // what comes later neither shows nor stretches the scale
  const std::string svg = chart_svg(chart);
  CHECK(svg.find(">100<") == std::string::npos);
  CHECK(svg.find(">4<") != std::string::npos);
}

TEST_CASE("two lines of one design have strokes of their own, in the chart and beside their names") {
  Chart chart;
  chart.lines = {{"pipe", {0, 1}, {0, 5}, 1}, {"pump", {0, 1}, {0, 2}, 1, 1}};
  const std::string svg = chart_svg(chart);
  std::size_t count = 0;
  for (auto at = svg.find("class=\"line s1 p1\""); at != std::string::npos;
       at = svg.find("class=\"line s1 p1\"", at + 1))
    ++count;
  CHECK(count == 3); // the line, and the mark in both legends
}

TEST_CASE("the legend follows as text for narrow screens, each name with its mark") {
  Chart chart;
  chart.lines = {{"as is", {0, 1}, {0, 5}, 0}, {"<x>", {0, 1}, {0, 2}, 1}};
  const std::string svg = chart_svg(chart);
  const std::string key = svg.substr(svg.find("</svg>"));
  CHECK_THAT(key, ContainsSubstring("class=\"key\" aria-hidden=\"true\"") &&
                      ContainsSubstring("class=\"line s1\"") && ContainsSubstring("&lt;x&gt;</span>"));
  CHECK_THAT(svg.substr(0, svg.find("</svg>")), ContainsSubstring("class=\"in-chart\""));
}

TEST_CASE("a chart of nothing is still a chart") {
  CHECK_THAT(chart_svg({}), ContainsSubstring("<svg") && ContainsSubstring("</svg>"));
}
