#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("the cautions for digging are always there") {
  const sample::PageMaker maker;
  CHECK_THAT(section("digging").html(maker.page()),
             ContainsSubstring("utilities located") && ContainsSubstring("Private lines") &&
                 ContainsSubstring("45 degrees") && ContainsSubstring("Trees") &&
                 ContainsSubstring("about 1.7 ft"));
}

TEST_CASE("the warning grows with the trench") {
  sample::PageMaker maker;
  auto& depth = maker.site.designs[0].runs[0].trench_depth;
  depth = 4.2 * 0.3048;
  CHECK_THAT(section("digging").html(maker.page()),
             ContainsSubstring("class=\"alert\"") && ContainsSubstring("a ladder or"));
  depth = 5 * 0.3048;
  CHECK_THAT(section("digging").html(maker.page()), ContainsSubstring("not routine work"));
  depth = 4.2 * 0.3048; // a town that asks for more than the usual 5 ft
  lowspot::catalog::PracticeLimit limit;
  limit.name = "trench_depth";
  limit.value = 4 * 0.3048;
  maker.site.limits = {limit};
  CHECK_THAT(section("digging").html(maker.page()), ContainsSubstring("not routine work"));
}

TEST_CASE("a pit counts as a trench does") {
  sample::PageMaker maker;
  lowspot::site::Outlet pit;
  pit.kind = "pump";
  pit.well.depth = 5.5 * 0.3048;
  maker.site.designs[0].outlets.push_back(pit);
  CHECK_THAT(section("digging").html(maker.page()),
             ContainsSubstring("about 5.5 ft") && ContainsSubstring("not routine work"));
}

TEST_CASE("the deepest pit says whose it is, and how deep the proposed design is dug") {
  sample::PageMaker maker;
  lowspot::site::Design well = maker.site.designs[0];
  well.name = "dry <well>";
  lowspot::site::Outlet pit;
  pit.kind = "dry well";
  pit.well.depth = 5.5 * 0.3048;
  well.outlets.push_back(pit);
  maker.site.designs.push_back(well);
  maker.comparison.verdict.design = maker.site.designs[0].name;
  const std::string html = section("digging").html(maker.page());
  CHECK_THAT(html,
             ContainsSubstring("about 5.5 ft, in &quot;dry &lt;well&gt;&quot; (about 1.7 ft in &quot;") &&
                 ContainsSubstring("which is proposed)"));
  maker.comparison.verdict.design = well.name;
  CHECK_THAT(section("digging").html(maker.page()), !ContainsSubstring("which is proposed)"));
}

TEST_CASE("a crew that measures in metres reads metres first") {
  sample::PageMaker maker;
  maker.site.units = maker.comparison.units = "m";
  maker.site.designs[0].runs[0].trench_depth = 4.2 * 0.3048;
  const std::string html = section("digging").html(maker.page()) + section("limits").html(maker.page());
  CHECK_THAT(html, ContainsSubstring("at 1.2 m (4 ft) a ladder within 7.6 m (25 ft); at 1.5 m (5 ft)") &&
                       ContainsSubstring("must be within 7.6 m (25 ft)") &&
                       ContainsSubstring("every 1.5 to 3 m") &&
                       ContainsSubstring("walls above 1.2 m (4 ft)"));
}

TEST_CASE("the list states the town's own depths, and the warning stands out from the lesser of them") {
  sample::PageMaker maker;
  lowspot::catalog::PracticeLimit protect, way_out;
  protect.name = "trench_depth", protect.value = 3 * 0.3048;
  protect.written = "3 ft", protect.from.mark = "town";
  maker.site.limits = {protect};
  maker.site.designs[0].runs[0].trench_depth = 3.2 * 0.3048; // less than the usual 4 ft of a way out
  const std::string html = section("digging").html(maker.page());
  CHECK_THAT(html, ContainsSubstring("class=\"alert\"") && ContainsSubstring("not routine work") &&
                       ContainsSubstring("at 3 ft, or less where the sides may cave in") &&
                       !ContainsSubstring("at 5 ft"));
}
