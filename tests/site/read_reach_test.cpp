#include <lowspot/site/readers.hpp>

#include <cmath>

#include "sample.hpp"

using namespace sample;

TEST_CASE("places where a drain might end, with their level or without") {
  const auto site =
      read(yard("[[outlet_candidate]]\nname = \"ditch\"\nkind = \"ditch\"\nat = [60, 0]\nlevel = 97.5\n"
                "[[outlet_candidate]]\nat = [30, 0]\n"));
  REQUIRE(site.outlet_candidates.size() == 2);
  CHECK(site.outlet_candidates[0].kind == "ditch");
  CHECK(site.outlet_candidates[0].at.x == Approx(60 * 0.3048));
  CHECK(site.outlet_candidates[0].level == Approx(97.5 * 0.3048));
  CHECK(site.outlet_candidates[1].name == "outlet 2");
  CHECK(site.outlet_candidates[1].kind == "daylight");
  CHECK(std::isnan(site.outlet_candidates[1].level));
  CHECK_THAT(error_of(yard("[[outlet_candidate]]\nat = [61, 0]\n")).found,
             ContainsSubstring("outside the yard"));
  CHECK_THAT(
      error_of(yard("[[outlet_candidate]]\nname = \"a\"\nat = [1, 1]\n[[outlet_candidate]]\nname = \"a\"\n"
                    "at = [2, 2]\n"))
          .found,
      ContainsSubstring("second outlet candidate"));
}

TEST_CASE("what a pipe must keep to: own figures, and the usual ones listed") {
  const auto site =
      read(yard("[reach]\ncover = \"8 in\"\npipe = \"110 mm\"\nfall = \"1 in per 8 ft\"\n"
                "deepest_cut = \"4 ft\"\nrun_out = \"10 ft\"\ntrench_width = \"8 in\"\npaving_factor = 2\n"));
  CHECK(site.reach.cover == Approx(0.2032));
  CHECK(site.reach.pipe == Approx(0.11));
  CHECK(site.reach.least_fall == Approx(1.0 / 96));
  CHECK(site.reach.deepest_cut == Approx(4 * 0.3048));
  CHECK(site.reach.run_out == Approx(3.048));
  CHECK(site.reach.trench_width == Approx(0.2032));
  CHECK(site.reach.paving_factor == 2);
  const auto usual = read(yard(""));
  CHECK(assumed(usual, "reach.cover") == "6 in");
  CHECK(assumed(usual, "reach.fall") == "0.5 %");
  CHECK(assumed(usual, "reach.deepest_cut") == "5 ft");
}

TEST_CASE("rules that no pipe can keep") {
  CHECK_THAT(error_of(yard("[reach]\nfall = \"0 %\"\n")).expected, ContainsSubstring("above zero"));
  CHECK_THAT(error_of(yard("[reach]\ndeepest_cut = \"9 in\"\n")).expected,
             ContainsSubstring("cover and pipe"));
  CHECK_THAT(error_of(yard("[reach]\ncover = \"6 ft\"\ndeepest_cut = \"5 ft\"\n")).mend,
             ContainsSubstring("cover"));
  CHECK_THAT(error_of(yard("[reach]\ncover = \"60 ft\"\n")).mend, ContainsSubstring("unit"));
  CHECK_THAT(error_of(yard("[reach]\nfal = \"1 %\"\n")).mend, ContainsSubstring("`fall`"));
  CHECK(warned(read(yard("[reach]\ndeepest_cut = \"7 ft\"\n")), "without protection"));
  CHECK(warned(read(yard("[reach]\ndeepest_cut = \"2 m\"\n", "m")), "without protection, 1.5 m (5 ft)"));
}
