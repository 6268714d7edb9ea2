#include <lowspot/site/readers.hpp>

#include "sample.hpp"

using namespace sample;

TEST_CASE("the yard itself: units turn coordinates into metres") {
  const auto feet = read(yard(""));
  CHECK(feet.name == "t");
  CHECK(feet.outline.at(2).x == Approx(60 * 0.3048));
  CHECK(assumed(feet, "site.cell") == "6 in");
  CHECK(feet.cell == Approx(0.1524));
  const auto metres = read(yard("", "m"));
  CHECK(metres.outline.at(2).x == Approx(60));
  CHECK(metres.unit == 1);
}

TEST_CASE("name and units have defaults, the outline has none") {
  const auto site = read("[site]\nrectangle = [0, 0, 30, 20]\n[ground]\nlevels = \"levels.csv\"");
  CHECK(site.units == "ft");
  CHECK(assumed(site, "site.units") == "ft");
  CHECK(assumed(site, "site.name") == "yard");
  const auto error = error_of("[site]\nunits = \"ft\"\n[ground]\nlevels = \"levels.csv\"");
  CHECK(error.where.key == "site.outline");
  CHECK(error_of("[ground]\nlevels = \"levels.csv\"").found == "no [site] table");
  CHECK_THAT(error_of("[site]\nunits = \"yards\"\n").mend, ContainsSubstring("one of these words"));
}

TEST_CASE("cell, north and crs are read") {
  const std::string text =
      "[site]\nunits = \"m\"\nrectangle = [0, 0, 30, 20]\ncell = \"0.25 m\"\nnorth = \"90 deg\"\n"
      "crs = \"EPSG:26917\"\n[ground]\nlevels = \"levels.csv\"";
  const auto site = read(text);
  CHECK(site.cell == 0.25);
  CHECK(site.north == Approx(1.5707963268));
  CHECK(site.crs == "EPSG:26917");
  CHECK(assumed(site, "site.cell") == "not listed");
}

TEST_CASE("a cell that makes too many cells is refused with the memory it would need") {
  const auto error = error_of("[site]\nunits = \"m\"\nrectangle = [0, 0, 100, 100]\ncell = \"2 "
                              "cm\"\n[ground]\nlevels = \"levels.csv\"");
  CHECK(error.where.line == 4);
  CHECK_THAT(error.found, ContainsSubstring("25 million cells") && ContainsSubstring("35 GB"));
  CHECK_THAT(
      error_of("[site]\nrectangle = [0, 0, 10, 10]\ncell = \"20 ft\"\n[ground]\nlevels = \"levels.csv\"")
          .found,
      ContainsSubstring("larger than the yard"));
  CHECK_THAT(
      error_of("[site]\nunits = \"m\"\nrectangle = [0, 0, 90000, 90000]\n[ground]\nlevels = \"levels.csv\"")
          .mend,
      ContainsSubstring("units"));
}

TEST_CASE("an outline that crosses itself is refused") {
  const auto error =
      error_of("[site]\noutline = [[0, 0], [10, 10], [10, 0], [0, 12]]\n[ground]\nlevels = \"levels.csv\"");
  CHECK(error.where.line == 2);
  CHECK_THAT(error.found, ContainsSubstring("cross"));
}

TEST_CASE("the unit of the coordinate system is held against the yard's units") {
  const auto with = [](const std::string& units, const std::string& crs) {
    return "[site]\n" + units + "rectangle = [0, 0, 30, 20]\ncrs = \"" + crs +
           "\"\n[ground]\nlevels = \"levels.csv\"";
  };
  const std::string drawing =
      error_of("[site]\noutline = \"gone.dxf\"\n[ground]\nlevels = \"levels.csv\"").mend;
  if (drawing.find("LOWSPOT_GIS=ON") != std::string::npos) return; // a build that knows no systems
  const auto metres = error_of(with("", "EPSG:26917"));
  CHECK(metres.where.key == "site.crs");
  CHECK(metres.where.line == 3);
  CHECK_THAT(metres.found, ContainsSubstring("units of 1 m") && ContainsSubstring("(not written)"));
  CHECK_THAT(metres.mend, ContainsSubstring("units = \"m\""));
  CHECK_THAT(error_of(with("units = \"m\"\n", "EPSG:6549")).mend, ContainsSubstring("units = \"ft\""));
  CHECK(read(with("", "EPSG:6549")).crs == "EPSG:6549"); // survey feet are feet
  CHECK_THAT(error_of(with("", "EPSG:4326")).found, ContainsSubstring("degrees"));
  CHECK_THAT(error_of(with("", "EPSG:99999999")).mend, ContainsSubstring("EPSG:6549"));
}
