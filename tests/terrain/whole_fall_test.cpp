#include "catch.hpp"

#include <lowspot/terrain/whole_fall.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
// What is said of a yard 20 m by 15 m, 25 m across, that falls to the south, with a ripple.
std::vector<std::string> said(double fall, double ripple, const std::string& units = "m") {
  site::Site site = plain_site(rectangle(0, 0, 20, 15), 0.5);
  site.units = units;
  site.unit = units == "ft" ? 0.3048 : 1;
  Ground ground = bare_ground(
      40, 30, 0.5, [&](int i, int j) { return 30 + fall * 0.5 * j + ripple * (i % 2 == 0 ? 1 : -1); });
  warn_of_whole_fall(site, ground);
  return ground.warnings;
}
} // namespace

TEST_CASE("ground that falls as yards do is left alone, steep gardens and lawns laid level too") {
  for (const double fall : {0.002, 0.02, 0.1, 0.29}) CHECK(said(fall, 0.02).empty());
  CHECK(said(0, 0.02).empty()); // level as a whole, but shot
  CHECK(said(0.002, 0).empty());
}

TEST_CASE("all levels in another unit: steeper than is mown, or flatter than is made") {
  const auto steep = said(0.35, 0.02);
  REQUIRE(steep.size() == 1);
  CHECK_THAT(steep[0], ContainsSubstring("falls by 35 %") && ContainsSubstring("rushes off") &&
                           ContainsSubstring("in feet it would be 11 %"));
  // A fall of 3 % whose rod was read in inches.
  const auto inches = said(0.03 * 12, 0.02, "ft");
  REQUIRE(inches.size() == 1);
  CHECK_THAT(inches[0], ContainsSubstring("in inches it would be 3 %"));
  const auto flat = said(0.03 / 100, 0.0005); // metres, read as centimetres
  REQUIRE(flat.size() == 1);
  CHECK_THAT(flat[0], ContainsSubstring("flatter than grading makes it") &&
                          ContainsSubstring("water stays where it falls"));
  CHECK(said(0, 0).size() == 1);
}

TEST_CASE("a piece of ground of a few metres may be level or a bank") {
  site::Site site = plain_site(rectangle(0, 0, 3, 2), 0.5);
  for (const double fall : {0.0, 0.6}) {
    Ground ground = bare_ground(6, 4, 0.5, [&](int i, int) { return 1 + fall * 0.5 * i; });
    warn_of_whole_fall(site, ground);
    CHECK(ground.warnings.empty());
  }
}
