#include <lowspot/yard/drain_warnings.hpp>

#include <algorithm>

#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/base/error.hpp>
#include <lowspot/yard/drain_layout.hpp>

using namespace lowspot;

namespace {
// 40 m of level ground at 10 m, a run of 32 m through it to the outlet.
struct Level {
  SimpleYard yard = simple_yard(80, 20, 0.5, [](double, double) { return 10.0; });
  site::Design design = simple_drain(yard);
  double (*ground)(Point) = [](Point) { return 10.0; };

  std::vector<std::string> warnings() const {
    return yard::resolve_drain(yard.site, design, ground).warnings;
  }
  bool said(const std::string& words) const {
    const std::vector<std::string> all = warnings();
    return std::any_of(all.begin(), all.end(),
                       [&](const std::string& warning) { return warning.find(words) != std::string::npos; });
  }
};
} // namespace

TEST_CASE("thin cover is told up to where the pipe runs out of the ground, by the figure of [reach]") {
  Level one; // its pipe rises out of ground that falls away: 12 mm of cover at the foot, 50 mm 4.3 m up
  one.ground = [](Point at) { return 10 - 0.02 * (at.x - 8); };
  one.design.runs[0].inverts = {9.6, 9.24};
  CHECK_FALSE(one.said("of cover"));
  one.yard.site.reach.run_out = 2;
  CHECK(one.said("of cover"));
  one.yard.site.reach.run_out = 100; // half of the run is left to judge
  CHECK_FALSE(one.said("of cover"));
  one.design.outlets[0].kind = "pop-up"; // stays in the ground to its end
  one.design.outlets[0].weep = 0.01;
  CHECK(one.said("only 12 mm of cover 32 m from its head"));
}

TEST_CASE("a trench is deepest where it is deepest, be it at a dry well, and the town says what is deep") {
  Level one;
  one.design.outlets[0].kind = "dry well";
  one.design.outlets[0].well = {1, 4, 2, 0.4, 1e-6};
  one.design.runs[0].inverts = {9.5, 9.5, 8.9};
  one.design.runs[0].path = {{8, 5}, {39, 5}, {40, 5}}; // 1.15 m at the well with the bedding
  one.design.as_dug = true;                             // level for a while
  CHECK_FALSE(one.said("ladder"));
  one.design.runs[0].inverts.back() = 8.8; // 1.25 m, in the last metre alone
  CHECK(one.said("from 1.2 m (4 ft) a ladder"));
  catalog::PracticeLimit town;
  town.name = "trench_depth", town.value = 1.2, town.written = "4 ft", town.from.mark = "town";
  one.yard.site.limits = {town};
  CHECK(one.said("walls of 4 ft and more must be protected"));
  one.yard.site.limits[0].value = 1.3;
  CHECK_FALSE(one.said("must be protected"));
}

TEST_CASE("a pipe may lie bare for a few feet before a free end, however far its cover may thin out") {
  Level one;
  one.design.runs[0].path = {{8, 5}, {37, 5}, {40, 5}};
  one.ground = [](Point at) { return at.x > 38.6 ? 9.0 : 10.0; }; // a bank, the last 1.4 m
  one.design.runs[0].inverts = {9.5, 9.25, 9.2};
  CHECK_NOTHROW(one.warnings());
  CHECK_FALSE(one.said("out of the ground"));
  one.ground = [](Point at) { return at.x > 37.6 ? 9.0 : 10.0; }; // 2.4 m
  CHECK_THROWS_AS(one.warnings(), InputError);
  one.ground = [](Point at) { return at.x > 37.6 ? 9.25 : 10.0; }; // half sunk there
  CHECK(one.said("comes out of the ground"));
}

TEST_CASE("a free end under the ground beside it is told") {
  Level one;
  std::vector<std::string> warnings;
  const site::Outlet& outlet = one.design.outlets[0];
  yard::warn_of_buried_outlet(one.yard.site, outlet, 9.97, one.ground, warnings);
  yard::warn_of_buried_outlet(one.yard.site, outlet, std::numeric_limits<double>::infinity(), one.ground,
                              warnings);
  CHECK(warnings.empty());
  yard::warn_of_buried_outlet(one.yard.site, outlet, 9.8, one.ground, warnings);
  REQUIRE(warnings.size() == 1);
  CHECK_THAT(warnings[0], ContainsSubstring("outlet 'outlet' lies 200 mm below the ground"));
}
