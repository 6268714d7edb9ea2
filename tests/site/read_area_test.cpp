#include <lowspot/site/readers.hpp>

#include "sample.hpp"

using namespace sample;

namespace {
const std::string patio = "[[area]]\nname = \"patio\"\nkind = \"concrete\"\nrectangle = [10, 10, 20, 10]\n";
}

TEST_CASE("areas in order, with their soils, planes and plants") {
  const auto site = read(
      yard("[[soil]]\nname = \"yard\"\n[[soil]]\nname = \"fill\"\n" + patio +
           "surface = [[10, 10, 100.2], [30, 10, 100.1], [10, 20, 100.4]]\n[[area]]\nkind = \"mulched bed\"\n"
           "outline = [[40, 5], [50, 5], [50, 9]]\nsoil = \"fill\"\nplants = { kind = \"shrubs\" }\n"));
  REQUIRE(site.areas.size() == 2);
  CHECK(site.areas[0].surface.at(2).z == Approx(100.4 * 0.3048));
  CHECK(site.areas[0].impervious);
  CHECK(site.areas[0].line == 11);
  CHECK(site.areas[1].name == "area 2");
  CHECK(site.areas[1].soil == 1);
  REQUIRE(site.areas[1].plants);
  CHECK(site.areas[1].plants->kind == "shrubs");
  CHECK(site.lawn.manning_n == 0.24);
  CHECK_THAT(assumed(site, "area"), ContainsSubstring("lawn"));
}

TEST_CASE("lawn is assumed only where some ground is left uncovered") {
  const auto site = read(yard("[[area]]\nname = \"all\"\nkind = \"concrete\"\nrectangle = [0, 0, 60, 40]\n"));
  CHECK(assumed(site, "area") == "not listed");
}

TEST_CASE("areas that cannot be used") {
  const auto twice = error_of(yard(patio + patio));
  CHECK(twice.where.key == "area[2].name");
  CHECK(twice.where.line == 12);
  CHECK_THAT(twice.found, ContainsSubstring("second area called \"patio\""));
  CHECK_THAT(error_of(yard("[[area]]\nkind = \"lawn\"\nrectangle = [70, 10, 5, 5]\n")).found,
             ContainsSubstring("wholly outside"));
  CHECK_THAT(
      error_of(yard("[[area]]\nkind = \"lawn\"\noutline = [[10, 10], [20, 20], [20, 10], [10, 22]]\n")).found,
      ContainsSubstring("cross"));
  CHECK_THAT(error_of(yard(patio + "soil = \"fil\"\n[[soil]]\nname = \"fill\"\n")).mend,
             ContainsSubstring("\"fill\""));
  CHECK_THAT(error_of(yard(patio + "surface = [[10, 10, 1], [20, 20, 1], [30, 30, 1]]\n")).found,
             ContainsSubstring("one line"));
  CHECK_THAT(error_of(yard("[area]\nkind = \"lawn\"\nrectangle = [1, 1, 5, 5]\n")).mend,
             ContainsSubstring("[[area]]"));
  CHECK_THAT(
      error_of(yard("[[area]]\nkind = \"lawn\"\nrectangle = [1, 1, 5, 5]\nbase = { depth = \"4 in\" }\n"))
          .mend,
      ContainsSubstring("cannot fill"));
}

TEST_CASE("an area partly outside, a base under concrete and plants on concrete are warned of") {
  CHECK(warned(read(yard("[[area]]\nkind = \"lawn\"\nrectangle = [55, 10, 10, 10]\n")),
               "50 % of it lies outside"));
  CHECK(warned(read(yard(patio + "base = { depth = \"4 in\" }\n")), "not used"));
  CHECK(warned(read(yard(patio + "plants = { kind = \"shrubs\" }\n")), "dry out"));
}

TEST_CASE("a slab as thick as a wall, and a rectangle by its corners, are warned of") {
  const auto slab = [](const std::string& more) {
    return read(yard("[[area]]\nname = \"p\"\nkind = \"concrete\"\nsurface = [[30, 10, 99], [40, 10, 99], "
                     "[40, 20, 99.1]]\nbase = { depth = \"4 in\" }\n" +
                     more));
  };
  CHECK(warned(slab("thickness = \"4 ft\"\nrectangle = [30, 10, 10, 10]\n"), "thickness: 4 ft is thicker"));
  CHECK(slab("thickness = \"6 in\"\nrectangle = [30, 10, 10, 10]\n").warnings.empty());
  CHECK(warned(slab("rectangle = [30, 10, 40, 20]\n"), "If these are two corners"));
  CHECK_FALSE(warned(slab("rectangle = [30, 10, 20, 40]\n"), "two corners"));
}

TEST_CASE("plants as a name alone are told how to be written") {
  const auto error = error_of(yard(patio + "plants = \"boxwood\"\n"));
  CHECK(error.found == "\"boxwood\"");
  CHECK(error.mend == "Write plants = { kind = \"boxwood\" }.");
}
