#include "catch.hpp"

#include <algorithm>

#include <lowspot/report/svg_profile.hpp>

#include "results/sample_comparison.hpp"

using namespace lowspot::report;

TEST_CASE("a profile shows ground, stone, pipe and the highest water") {
  auto profile = sample::comparison().designs[1].profiles[0];
  profile.run = "<leg>";
  const std::string svg = profile_svg(profile, units_for("ft"));
  CHECK_THAT(svg, ContainsSubstring("class=\"ground\" d=\"M") && ContainsSubstring("class=\"stone\" d=\"M") &&
                      ContainsSubstring("class=\"pipe\" d=\"M") &&
                      ContainsSubstring("class=\"water\" d=\"M"));
  CHECK_THAT(svg, ContainsSubstring("&lt;leg&gt;") && ContainsSubstring("12 ft long, the pipe falls 1 %"));
  CHECK(svg.find("nan") == std::string::npos);
}

TEST_CASE("a carrier without stone shows none, and a run without stations nothing") {
  const auto profile = sample::comparison().designs[1].profiles[1];
  CHECK(profile_svg(profile, units_for("m")).find("stone") == std::string::npos);
  CHECK(profile_svg({}, units_for("m")).empty());
}
