#include <lowspot/site/readers.hpp>

#include <cmath>

#include "sample.hpp"

using namespace sample;

TEST_CASE("places to keep off: a point, a line or an outline, inside the yard or not") {
  const auto site =
      read(yard("[[keep_off]]\nkind = \"well\"\nat = [-10, 5]\n"
                "[[keep_off]]\nname = \"fence\"\nkind = \"lot line\"\nline = [[0, 0], [60, 0]]\n"
                "[[keep_off]]\nkind = \"septic field\"\nrectangle = [70, 0, 10, 10]\n"
                "[[keep_off]]\nname = \"pool\"\nkind = \"other\"\nat = [1, 1]\ndistance = \"10 ft\"\n"));
  REQUIRE(site.keep_offs.size() == 4);
  CHECK(site.keep_offs[0].name == "well 1");
  CHECK(site.keep_offs[0].shape[0].x == Approx(-10 * 0.3048));
  CHECK(std::isnan(site.keep_offs[0].distance));
  CHECK_FALSE(site.keep_offs[1].closed);
  CHECK(site.keep_offs[2].closed);
  CHECK(site.keep_offs[3].distance == Approx(10 * 0.3048));
}

TEST_CASE("places to keep off that cannot be used") {
  CHECK_THAT(error_of(yard("[[keep_off]]\nkind = \"wel\"\nat = [1, 1]\n")).mend, ContainsSubstring("well"));
  CHECK_THAT(error_of(yard("[[keep_off]]\nkind = \"well\"\n")).expected, ContainsSubstring("`at`"));
  CHECK_THAT(error_of(yard("[[keep_off]]\nkind = \"well\"\nat = [1, 1]\nline = [[0, 0], [1, 1]]\n")).found,
             ContainsSubstring("more than one"));
  CHECK_THAT(error_of(yard("[[keep_off]]\nkind = \"other\"\nat = [1, 1]\n")).expected,
             ContainsSubstring("distance"));
  CHECK_THAT(error_of(yard("[[keep_off]]\nname = \"a\"\nkind = \"well\"\nat = [1, 1]\n"
                           "[[keep_off]]\nname = \"a\"\nkind = \"well\"\nat = [1, 2]\n"))
                 .found,
             ContainsSubstring("second"));
}

TEST_CASE("trees and utilities") {
  const auto site = read(yard("[[tree]]\nname = \"oak\"\nat = [70, 5]\ntrunk = \"18 in\"\n"
                              "[[utility]]\npath = [[0, 5], [60, 5]]\ndepth = \"2 ft\"\n"
                              "[[utility]]\nname = \"gas\"\npath = [[0, 9], [60, 9]]\n"));
  CHECK(site.trees[0].trunk == Approx(18 * 0.0254));
  CHECK(site.utilities[0].name == "utility 1");
  CHECK(site.utilities[0].depth == Approx(0.6096));
  CHECK(std::isnan(site.utilities[1].depth));
  CHECK_THAT(error_of(yard("[[tree]]\nat = [1, 1]\n")).where.key, ContainsSubstring("trunk"));
  CHECK_THAT(error_of(yard("[[tree]]\nat = [1, 1]\ntrunk = \"12 ft\"\n")).mend, ContainsSubstring("breast"));
  CHECK_THAT(error_of(yard("[[utility]]\npath = [[0, 5]]\n")).where.key, ContainsSubstring("path"));
}

TEST_CASE("a utility deeper than lines to a house lie is warned of") {
  const std::string gas = "[[utility]]\nname = \"gas\"\npath = [[0, 5], [60, 5]]\ndepth = ";
  CHECK(warned(read(yard(gas + "\"18 ft\"\n")), "18 ft is deeper"));
  CHECK_FALSE(warned(read(yard(gas + "\"18 in\"\n")), "is deeper"));
}

TEST_CASE("the size of a utility: taken as given, refused when it is nothing, warned of when hardly meant") {
  const std::string sewer = "[[utility]]\nname = \"sewer\"\npath = [[0, 5], [60, 5]]\ndepth = \"3 ft\"\n";
  CHECK(read(yard(sewer + "size = \"4.5 in\"\n")).utilities[0].size == Approx(4.5 * 0.0254));
  CHECK(std::isnan(read(yard(sewer)).utilities[0].size));
  const auto nothing = error_of(yard(sewer + "size = \"0 in\"\n"));
  CHECK_THAT(nothing.where.key, ContainsSubstring("size"));
  CHECK(nothing.where.line > 0);
  CHECK(warned(read(yard(sewer + "size = \"4 ft\"\n")), "4 ft is wider"));
  CHECK_FALSE(warned(read(yard(sewer + "size = \"12 in\"\n")), "is wider"));
}
