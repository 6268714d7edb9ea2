#include "catch.hpp"

#include <lowspot/report/series_chart.hpp>

#include "report/picture.hpp"

using namespace lowspot;
using namespace lowspot::report;

TEST_CASE("series are found by their names and turned to the reader's units") {
  const sample::PageMaker maker;
  const auto lines = series_lines(maker.page(), {"drain:", "_m3_per_s"}, units_for("ft").flow, true);
  REQUIRE(lines.size() == 1); // the yard as it is has no drain
  CHECK(lines[0].name == "3 in along the patio: fence outlet");
  CHECK(lines[0].series == 1);
  CHECK(highest(lines) == Approx(0.0007 * 60 / 3.785411784e-3).epsilon(1e-3));
  CHECK(lines[0].x.back() == Approx(sample::end_hours));
  CHECK(series_parts(maker.page(), {"bed:", ":depletion_m"}) == std::vector<std::string>{"long bed"});
}

TEST_CASE("of several series of one design each is a part of its own") {
  sample::PageMaker maker;
  results::DesignRecord& design = maker.comparison.designs[1];
  results::Series second = design.series.front();
  second.name = "drain:second_m3_per_s";
  design.series.push_back(second);
  const auto lines = series_lines(maker.page(), {"drain:", "_m3_per_s"}, units_for("ft").flow, true);
  REQUIRE(lines.size() == 2);
  CHECK(lines[0].series == lines[1].series);
  CHECK(lines[0].part == 0);
  CHECK(lines[1].part == 1);
}

TEST_CASE("charts end when the flow is over") {
  // A pulse that falls under a hundredth after two hours.
  CHECK(busy_end({{"a", {0, 1, 2, 3, 100}, {0, 50, 0.6, 0.4, 0.2}, 0}}) == Approx(1.1 * 2));
  CHECK(busy_end({}) == 0);
}

TEST_CASE("rain is drawn step by step until it ends") {
  const sample::PageMaker maker;
  Chart chart;
  add_rain(chart, maker.page());
  CHECK(chart.bar_from == std::vector<double>{0, 2, 3, 4});
  CHECK(chart.bar_to == std::vector<double>{2, 3, 4, 6});
  CHECK(chart.mark_x == 6);
}
