#include "catch.hpp"
#include "simple_yard.hpp"

#include <cmath>

#include <lowspot/study/next_tests.hpp>

using namespace lowspot;

namespace {
SimpleYard banded() {
  SimpleYard yard = simple_yard(2, 2, 1, [](double, double) { return 1.0; });
  site::Soil& soil = yard.site.soils[0];
  soil.depth = {0.2, 0.3, 0.4};
  soil.tight_conductivity = {1e-9, 1e-8, 1e-7};
  return yard;
}
} // namespace

TEST_CASE("the test that settles what the spread comes from is the next") {
  const SimpleYard yard = banded();
  const auto inputs = study::find_uncertain_inputs(yard.site);
  REQUIRE(inputs.size() == 2);
  auto tests = study::next_tests(yard.site, inputs, {{0.05, 0}, {0.9, -1}}, 4);
  REQUIRE(tests.size() == 2);
  CHECK(tests[0].minutes < tests[1].minutes);
  CHECK_FALSE(tests[0].next);
  CHECK(tests[1].next);
  CHECK_THAT(tests[1].name, ContainsSubstring("hole test"));
  CHECK_THAT(tests[1].factor_now, WithinRel(10, 1e-12));
  const double left = std::log(tests[1].factor_then) / std::log(10.0);
  CHECK_THAT(std::log(tests[1].answer_then) / std::log(4.0),
             WithinRel(std::sqrt(1 - 0.9 * (1 - left * left)), 1e-12));
  // The cheap one is next where it does most of what the dear one does.
  tests = study::next_tests(yard.site, inputs, {{0.5, 0}, {0.3, -1}}, 4);
  CHECK(tests[0].next);
  CHECK_FALSE(tests[1].next);
  // Nothing to narrow, nothing to test.
  tests = study::next_tests(yard.site, inputs, {{0, 0}, {0, 0}}, 4);
  CHECK_FALSE((tests[0].next || tests[1].next));
}

TEST_CASE("one hole more narrows less than the first") {
  SimpleYard yard = banded();
  const auto inputs = study::find_uncertain_inputs(yard.site);
  const double first = study::next_tests(yard.site, inputs, {{0, 0}, {1, -1}}, 4)[1].factor_then;
  site::HoleTest hole;
  hole.layer = "tight layer";
  hole.used = true;
  yard.site.soils[0].holes = {hole, hole, hole};
  const auto tests = study::next_tests(yard.site, inputs, {{0, 0}, {1, -1}}, 4);
  CHECK_THAT(tests[1].name, ContainsSubstring("one more hole"));
  CHECK(tests[1].factor_then < first);
  CHECK(tests[1].factor_then > 1);
}

TEST_CASE("a test that would leave the hours as they are known is not asked for") {
  const SimpleYard yard = banded();
  const auto inputs = study::find_uncertain_inputs(yard.site);
  // Hours known within a factor of 1.15: settling half of that leaves 1.1, which nobody would notice.
  for (const results::NextTest& test : study::next_tests(yard.site, inputs, {{0.5, 0}, {0.3, -1}}, 1.15))
    CHECK_FALSE(test.next);
}
