#include "catch.hpp"

#include <lowspot/report/sections.hpp>
#include <lowspot/report/series_chart.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("flows are drawn and listed by edge, line and outlet") {
  const sample::PageMaker maker;
  const std::string html = section("flows").html(maker.page());
  CHECK_THAT(html, ContainsSubstring("edge: south") && ContainsSubstring("across fence") &&
                       ContainsSubstring("drain outlets") &&
                       ContainsSubstring("Water leaving by the drain") &&
                       ContainsSubstring("Depth of water at bed corner"));
  CHECK_THAT(html,
             ContainsSubstring("neighbour") && ContainsSubstring("sidewalks") && ContainsSubstring("septic"));
}

TEST_CASE("perched thickness is not drawn as water on the ground") {
  sample::PageMaker maker;
  for (auto& design : maker.comparison.designs) {
    auto copy = design.series[1];
    copy.name = "gauge:bed corner:perched_m";
    design.series.push_back(copy);
  }
  CHECK(section("flows").html(maker.page()).find("perched") == std::string::npos);
}

TEST_CASE("a gauge whose name ends in that of another is not drawn with it") {
  sample::PageMaker maker;
  const auto& designs = maker.comparison.designs;
  for (auto& design : maker.comparison.designs) {
    auto copy = design.series[1];
    copy.name = "gauge:corner_m"; // beside "bed corner"
    design.series.push_back(copy);
  }
  CHECK(named_series(maker.page(), "gauge:corner_m", maker.page().units().depth).size() == designs.size());
  const std::string html = section("flows").html(maker.page());
  const auto lines_of = [&](const std::string& title) {
    const auto from = html.find("<figcaption>" + title);
    REQUIRE(from != std::string::npos);
    const std::string chart = html.substr(from, html.find("</figure>", from) - from);
    std::size_t lines = 0;
    for (auto at = chart.find("class=\"line"); at != std::string::npos;
         at = chart.find("class=\"line", at + 1))
      ++lines;
    return lines;
  };
  CHECK(lines_of("Depth of water at corner") > 0);
  CHECK(lines_of("Depth of water at corner") == lines_of("Depth of water at bed corner"));
}
