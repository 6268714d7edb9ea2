#include "catch.hpp"

#include <lowspot/report/sections.hpp>

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
