#include <lowspot/site/readers.hpp>

#include <cmath>

#include "sample.hpp"

using namespace sample;

namespace {
const std::string patio = "[[area]]\nname = \"patio\"\nkind = \"concrete\"\nrectangle = [10, 10, 20, 10]\n";
}

TEST_CASE("what was seen after rain and without it") {
  const auto site =
      read(yard(patio + "[[seen]]\narea = \"patio\"\nafter_rain = \"1.2 in\"\nstood = \"3 d\"\n"
                        "[[seen]]\nname = \"August\"\nat = [5, 5]\ndry_days = \"10 d\"\nwet = true\n"));
  REQUIRE(site.seen.size() == 2);
  CHECK(site.seen[0].name == "seen 1");
  CHECK(site.seen[0].area == "patio");
  CHECK(site.seen[0].rain == Approx(0.03048));
  CHECK(site.seen[0].lasted == 3 * 86400);
  CHECK(assumed(site, "seen[1].over") == "6 hr");
  CHECK(site.seen[1].at->x == Approx(5 * 0.3048));
  CHECK(std::isnan(site.seen[1].rain));
  CHECK(site.seen[1].lasted == 10 * 86400);
}

TEST_CASE("rain before a thing seen that comes near the hardest ever measured is pointed at") {
  const auto after = [](const std::string& rain) {
    return read(yard(patio + "[[seen]]\narea = \"patio\"\nafter_rain = \"" + rain + "\"\nstood = \"3 d\"\n"));
  };
  // 16.6 in times the root 0.475 of 6 h, half of it: 19.4 in.
  CHECK(warned(after("20 in"), "seen[1].after_rain: 20 in in 6 hr comes near the hardest rain"));
  CHECK_FALSE(warned(after("19 in"), "hardest rain"));
}

TEST_CASE("things seen that say too little or too much") {
  const std::string start = patio + "[[seen]]\n";
  CHECK_THAT(error_of(yard(start + "after_rain = \"1 in\"\nstood = \"3 d\"\n")).expected,
             ContainsSubstring("at = [x, y]"));
  CHECK_THAT(error_of(yard(start + "area = \"patoi\"\nafter_rain = \"1 in\"\nstood = \"3 d\"\n")).mend,
             ContainsSubstring("\"patio\""));
  CHECK_THAT(
      error_of(yard(start + "area = \"patio\"\nat = [5, 5]\nafter_rain = \"1 in\"\nstood = \"3 d\"\n")).found,
      ContainsSubstring("both"));
  CHECK_THAT(
      error_of(yard(start + "area = \"patio\"\nafter_rain = \"1 in\"\nstood = \"3 d\"\ndry_days = \"2 d\"\n"))
          .found,
      ContainsSubstring("both after_rain and dry_days"));
  CHECK_THAT(error_of(yard(start + "area = \"patio\"\ndry_days = \"2 d\"\nwet = false\n")).mend,
             ContainsSubstring("leave the table out"));
  CHECK_THAT(error_of(yard(start + "at = [500, 5]\ndry_days = \"2 d\"\n")).found,
             ContainsSubstring("outside"));
  CHECK_THAT(error_of(yard(start + "area = \"patio\"\nafter_rain = \"1 in\"\n")).expected,
             ContainsSubstring("a time"));
}
