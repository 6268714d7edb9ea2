#include <lowspot/site/readers.hpp>

#include <cmath>

#include "sample.hpp"

using namespace sample;

namespace {
const std::string house = "[[building]]\nname = \"house\"\nrectangle = [10, 30, 30, 10]\n";
}

TEST_CASE("a building with downspouts") {
  const auto site = read(yard(
      house + "downspouts = [ { at = [9, 29], roof = \"200 ft2\", to = \"ground\" }, { at = [41, 29] } ]\n"));
  REQUIRE(site.buildings.size() == 1);
  const auto& spouts = site.buildings[0].downspouts;
  REQUIRE(spouts.size() == 2);
  CHECK(spouts[0].name == "house downspout 1");
  CHECK(spouts[0].roof_area == Approx(200 * 0.3048 * 0.3048));
  CHECK(spouts[1].roof_area == Approx(100 * 0.3048 * 0.3048)); // what is left of 300 ft2
  CHECK_THAT(assumed(site, "building[1].downspouts[2].roof"), ContainsSubstring("100 ft²"));
  CHECK(assumed(site, "building[1].downspouts[2].to") == "ground");
}

TEST_CASE("a building without downspouts sheds evenly") {
  CHECK_THAT(assumed(read(yard(house)), "building[1].downspouts"), ContainsSubstring("evenly"));
}

TEST_CASE("buildings that cannot be used") {
  CHECK_THAT(error_of(yard(house + house)).found, ContainsSubstring("second building"));
  CHECK_THAT(error_of(yard(house + "downspouts = [ { at = [70, 29] } ]\n")).found,
             ContainsSubstring("outside the yard"));
  CHECK_THAT(error_of(yard(house + "downspouts = [ { at = [9, 29], roof = \"200 ft\" } ]\n")).where.key,
             ContainsSubstring("building[1].downspouts[1].roof"));
  const auto nowhere = error_of(yard(house + "downspouts = [ { at = [9, 29], to = \"gruond\" } ]\n"));
  CHECK_THAT(nowhere.mend, ContainsSubstring("\"ground\""));
  CHECK_THAT(
      error_of(
          yard(house + "downspouts = [ { at = [9, 29], name = \"a\" }, { at = [9, 28], name = \"a\" } ]\n"))
          .found,
      ContainsSubstring("second downspout"));
}

TEST_CASE("walls") {
  const auto site = read(yard("[[wall]]\nname = \"edging\"\nline = [[10, 5], [30, 5]]\nheight = \"6 "
                              "in\"\n[[wall]]\nline = [[10, 6], [30, 6]]\n"));
  REQUIRE(site.walls.size() == 2);
  CHECK(site.walls[0].height == Approx(0.1524));
  CHECK(assumed(site, "wall[2].height") == "4 in");
  CHECK(warned(read(yard("[[wall]]\nline = [[10, 5], [80, 5]]\nheight = \"6 in\"\n")), "leaves the yard"));
  CHECK_THAT(error_of(yard("[[wall]]\nline = [[10, 5], [30, 5]]\nhieght = \"6 in\"\n")).mend,
             ContainsSubstring("`height`"));
}

TEST_CASE("footing and floor of a building") {
  const auto site = read(yard(house + "footing_depth = \"3 ft\"\nfloor = 101.5\n"));
  CHECK(site.buildings[0].footing_depth == Approx(0.9144));
  CHECK(site.buildings[0].floor == Approx(101.5 * 0.3048));
  CHECK(std::isnan(read(yard(house)).buildings[0].floor));
}

TEST_CASE("a roof too large for one downspout is warned of, one of a whole house is not") {
  const auto with = [](const std::string& roof) {
    return read(yard(house + "downspouts = [ { at = [9, 29], roof = \"" + roof + "\" } ]\n"));
  };
  CHECK(warned(with("42000 ft2"), "downspouts[1].roof: 42000 ft² is more roof than one downspout"));
  CHECK(with("2500 ft2").warnings.empty());
}

TEST_CASE("roofs far beyond the building are warned of, and what is left is shared by those that say none") {
  const std::string three =
      "downspouts = [ { at = [9, 29], roof = \"150 ft2\" }, { at = [41, 29] }, { at = [9, 39] } ]\n";
  const auto site = read(yard(house + three));
  CHECK(site.buildings[0].downspouts[1].roof_area == Approx(75 * 0.3048 * 0.3048));
  CHECK(site.buildings[0].downspouts[2].roof_area == Approx(75 * 0.3048 * 0.3048));
  CHECK(site.warnings.empty());
  const auto none_left =
      read(yard(house + "downspouts = [ { at = [9, 29], roof = \"300 ft2\" }, { at = [41, 29] } ]\n"));
  CHECK(none_left.buildings[0].downspouts[1].roof_area == Approx(150 * 0.3048 * 0.3048));
  CHECK(warned(none_left, "downspouts[2].roof: is not stated, though the other downspouts have all"));
  const std::string stated =
      "downspouts = [ { at = [9, 9], roof = \"300 ft2\" }, { at = [41, 9], roof = \"200 ft2\" } ]\n";
  CHECK(warned(read(yard("[[building]]\nrectangle = [10, 10, 30, 10]\n" + stated)),
               "downspouts: lead down 500 ft² of roof, and the building covers 300 ft²"));
  CHECK_FALSE(warned(read(yard(house + stated)), "lead down")); // at the limit: drawn in part, perhaps
}

TEST_CASE("of a building mostly outside the yard it is said what comes of its roof") {
  const std::string across = "[[building]]\nname = \"house\"\nrectangle = [10, 32, 30, 40]\n";
  CHECK(warned(read(yard(across)), "of its roof the share sheds into the yard that its walls have inside"));
  const auto one = read(yard(across + "downspouts = [ { at = [9, 31] } ]\n"));
  CHECK(warned(one, "downspouts[1].roof: is not stated, and 80 % of the building lies outside"));
}

TEST_CASE("a downspout away from the walls, deep inside them, or with hardly a roof is warned of") {
  const auto with = [](const std::string& at, const std::string& roof) {
    return read(yard(house + "downspouts = [ { at = " + at + ", roof = \"" + roof + "\" } ]\n"));
  };
  CHECK(warned(with("[9, 5]", "200 ft2"), "downspouts[1].at: is 25 ft from the walls of \"house\""));
  CHECK(warned(with("[25, 35]", "200 ft2"), "5 ft inside the walls"));
  CHECK(with("[10.5, 30.5]", "200 ft2").warnings.empty()); // a wall drawn a little off
  CHECK(warned(with("[9, 29]", "4.2 ft2"), "downspouts[1].roof: 4.2 ft² is less roof"));
}

TEST_CASE("names that a downspout may lead to are listed once, however many designs have them") {
  const std::string one =
      "[[design.run]]\nname = \"leg\"\npath = [[10, 20], [30, 20]]\npipe = \"4 in sewer\"\n";
  const auto error = error_of(yard(house + "downspouts = [ { at = [9, 29], to = \"lek\" } ]\n" +
                                   "[[design]]\nname = \"a\"\n" + one + "[[design]]\nname = \"b\"\n" + one));
  const std::size_t first = error.expected.find("\"leg\"");
  REQUIRE(first != std::string::npos);
  CHECK(error.expected.find("\"leg\"", first + 1) == std::string::npos);
  CHECK_THAT(error.mend, ContainsSubstring("\"leg\""));
}
