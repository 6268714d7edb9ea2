#include <lowspot/site/readers.hpp>

#include <cmath>

#include "sample.hpp"

using namespace sample;

namespace {
const std::string patio = "[[area]]\nname = \"patio\"\nkind = \"concrete\"\nrectangle = [10, 10, 20, 10]\n";
}

TEST_CASE("the target") {
  const auto site =
      read(yard(patio + "[target]\nstanding_depth = \"0.5 in\"\nclear_within = \"2 d\"\nareas = [\"patio\"]\n"
                        "beds = { soggy_hours = \"36 hr\", dry_days = \"no more than before\" }\n"));
  CHECK(site.target.standing_depth == Approx(0.0127));
  CHECK(site.target.clear_within == 172800);
  CHECK(site.target.areas == std::vector<std::string>{"patio"});
  CHECK(site.target.soggy_hours_limit == 36 * 3600);
  CHECK(site.target.dry_days == "no more than before");
  CHECK(site.target.dry_beyond == 0);
  CHECK(std::isnan(site.target.dry_limit));
  const auto usual = read(yard(patio));
  CHECK(usual.target.standing_depth == Approx(0.00635));
  CHECK(assumed(usual, "target.clear_within") == "24 hr");
  CHECK(assumed(usual, "target.areas") == "all");
  CHECK(std::isnan(usual.target.soggy_hours_limit));
}

TEST_CASE("targets that cannot be used") {
  CHECK_THAT(error_of(yard(patio + "[target]\nareas = [\"patoi\"]\n")).mend, ContainsSubstring("\"patio\""));
  CHECK_THAT(error_of(yard(patio + "[target]\nareas = \"patio\"\n")).mend, ContainsSubstring("[\"patio\"]"));
  CHECK_THAT(error_of(yard(patio + "[target]\nareas = [3]\n")).expected, ContainsSubstring("in quotes"));
  CHECK_THAT(error_of(yard(patio + "[target]\nbeds = { sogy_hours = \"3 hr\" }\n")).mend,
             ContainsSubstring("`soggy_hours`"));
}

TEST_CASE("gauges and lines") {
  const auto site = read(yard(
      "[[gauge]]\nname = \"corner\"\nat = [60, 40]\n[[line]]\nname = \"fence\"\npath = [[0, 2], [60, 2]]\n"));
  CHECK(site.gauges.at(0).at.x == Approx(60 * 0.3048));
  CHECK(site.lines.at(0).path.at(1).x == Approx(60 * 0.3048));
  CHECK(site.lines.at(0).line == 10);
  CHECK(site.warnings.empty());
  CHECK_THAT(error_of(yard("[[gauge]]\nat = [61, 40]\n")).found,
             ContainsSubstring("[61, 40], outside the yard"));
  CHECK_THAT(
      error_of(yard("[[gauge]]\nname = \"a\"\nat = [1, 1]\n[[gauge]]\nname = \"a\"\nat = [2, 2]\n")).found,
      ContainsSubstring("second gauge"));
  CHECK(warned(read(yard("[[line]]\npath = [[0, 2], [90, 2]]\n")), "leaves the yard"));
}

TEST_CASE("how long to run and how often to write") {
  const auto site = read(yard("[run]\nuntil = \"9000 s\"\noutput_every = \"60 s\"\n"));
  CHECK(site.run.until == 9000);
  CHECK(site.run.output_every == 60);
  CHECK(std::isnan(read(yard("")).run.until));
  CHECK_THAT(error_of(yard("[run]\nuntil = \"0 s\"\n")).found, ContainsSubstring("0 s"));
}

TEST_CASE("how long a bed may lack water, in all or beyond what it does already") {
  const auto with = [](const std::string& text) {
    return read(yard("[target]\nbeds = { dry_days = \"" + text + "\" }\n")).target;
  };
  CHECK(with("3 d").dry_limit == 3 * 86400);
  CHECK(with("36 hr more than before").dry_beyond == 1.5 * 86400);
  CHECK(error_of(yard("[target]\nbeds = { dry_days = \"4 yr\" }\n")).where.key == "target.beds.dry_days");
  CHECK(error_of(yard("[target]\nbeds = { dry_days = \"1e300 hr more than before\" }\n")).where.line == 8);
  CHECK_THAT(error_of(yard("[target]\nbeds = { dry_days = \"few\" }\n")).expected,
             ContainsSubstring("no more than before"));
}

TEST_CASE("a run that ends before the target can be met is said to") {
  const std::string storm =
      "[storm]\ndepth = \"2 in\"\nduration = \"2 hr\"\npattern = \"uniform\"\ndry = \"7 hr\"\n";
  CHECK(warned(read(yard(storm)), "24 hr is longer than the run goes on after the rain, 7 hr"));
  CHECK_FALSE(warned(read(yard(storm + "[target]\nclear_within = \"7 hr\"\n")), "longer than the run"));
  CHECK_FALSE(warned(read(yard(storm + "[run]\nuntil = \"3 d\"\n")), "longer than the run"));
}

TEST_CASE("a depth of standing water that would pass puddles as dry is warned of") {
  const auto with = [](const std::string& depth) {
    return read(yard("[target]\nstanding_depth = \"" + depth + "\"\n"));
  };
  CHECK(warned(with("0.25 ft"), "target.standing_depth: 3 in lets every puddle shallower than that"));
  CHECK(with("1 in").warnings.empty());
}

TEST_CASE("areas of the target are named once, and some") {
  CHECK_THAT(error_of(yard(patio + "[target]\nareas = [\"patio\", \"patio\"]\n")).found,
             ContainsSubstring("twice"));
  CHECK_THAT(error_of(yard(patio + "[target]\nareas = []\n")).mend, ContainsSubstring("Leave `areas` out"));
}

TEST_CASE("times that no bed reaches before the run is over are warned of") {
  const auto with = [](const std::string& beds, const std::string& more = "") {
    return read(yard(patio +
                     "[storm]\ndepth = \"1 in\"\nduration = \"6 hr\"\ndry = \"2 d\"\n[target]\nbeds = { " +
                     beds + " }\n" + more));
  };
  CHECK(
      warned(with("soggy_hours = \"72 hr\""), "target.beds.soggy_hours: 3 d is longer than the run goes on"));
  CHECK(warned(with("dry_days = \"3 d\""), "target.beds.dry_days: 3 d is longer than the run goes on"));
  CHECK_FALSE(warned(with("soggy_hours = \"36 hr\", dry_days = \"1 d\""), "is longer than the run"));
  CHECK_FALSE(warned(with("dry_days = \"3 d more than before\""), "is longer than the run"));
  CHECK_FALSE(
      warned(with("dry_days = \"3 d\"", "[season]\ndry_spell = \"30 d\"\n"), "is longer than the run"));
  CHECK_FALSE(warned(with("dry_days = \"3 d\"", "[run]\nuntil = \"9 d\"\n"), "is longer than the run"));
}
