#include <lowspot/site/read_works.hpp>

#include "sample.hpp"

using namespace sample;

namespace {
const std::string head = "[[design]]\nname = \"d\"\n";
} // namespace

TEST_CASE("the ground may be given a plane, a swale or a berm") {
  const site::Design design =
      read(yard(head +
                "[[design.regrade]]\nname = \"lawn\"\nkind = \"plane\"\nrectangle = [10, 10, 20, "
                "10]\nsurface = [[10, 10, 99.8], [30, 10, 99.6], [10, 20, 100]]\n"
                "[[design.regrade]]\nkind = \"swale\"\npath = [[5, 5, 99.5], [50, 5, 99.2]]\nwidth = \"1 "
                "ft\"\nside_slope = \"1:4\"\n"
                "[[design.regrade]]\nkind = \"berm\"\npath = [[5, 35, 100.5], [50, 35, 100.5]]\n"))
          .designs.at(0);
  REQUIRE(design.regrades.size() == 3);
  CHECK(design.regrades[0].surface.size() == 3);
  CHECK(design.regrades[1].name == "regrading 2");
  CHECK(design.regrades[1].path[1].z == Approx(99.2 * 0.3048));
  CHECK(design.regrades[1].side_slope == Approx(0.25));
  CHECK(design.regrades[2].width == Approx(0.3048));
  CHECK_THAT(error_of(yard(head + "[[design.regrade]]\nkind = \"plane\"\nrectangle = [10, 10, 20, "
                                  "10]\nsurface = [[10, 10, 99], [20, 10, 99], [30, 10, 99]]\n"))
                 .found,
             ContainsSubstring("one line"));
  CHECK(
      warned(read(yard(head + "[[design.regrade]]\nkind = \"swale\"\npath = [[5, 5, 99], [50, 5, 99.2]]\n")),
             "rises"));
  // A bank is no grade of 1 in per 8 ft.
  CHECK_THAT(error_of(yard(head + "[[design.regrade]]\nkind = \"berm\"\npath = [[5, 5, 99], [50, 5, 99]]\n"
                                  "side_slope = 0.33\n"))
                 .mend,
             ContainsSubstring("side_slope = \"1:3\""));
}

TEST_CASE("soil may be improved, but not left as it is") {
  const std::string amend = "[[design.amend]]\nrectangle = [10, 10, 20, 10]\n";
  const site::Amend better =
      read(yard(head + amend + "conductivity_factor = 3\nporosity = 0.05\ndepth_added = \"4 in\"\n"))
          .designs.at(0)
          .amends.at(0);
  CHECK(better.conductivity_factor == 3);
  CHECK(better.porosity_added == 0.05);
  CHECK(better.depth_added == Approx(4 * 0.0254));
  CHECK_THAT(error_of(yard(head + amend)).found, ContainsSubstring("left as it is"));
}

TEST_CASE("a basin has a depth and spills at a level") {
  const std::string hollow = "[[design.basin]]\nname = \"rain garden\"\nrectangle = [10, 10, 20, 10]\n";
  const site::Basin basin =
      read(yard(head + hollow + "depth = \"8 in\"\noverflow = 99.5\nconductivity_factor = 5\n"))
          .designs.at(0)
          .basins.at(0);
  CHECK(basin.depth == Approx(8 * 0.0254));
  CHECK(basin.overflow == Approx(99.5 * 0.3048));
  CHECK(basin.conductivity_factor == 5);
  CHECK(std::isnan(read(yard(head + hollow)).designs.at(0).basins.at(0).overflow));
  CHECK(warned(read(yard(head + hollow + "depth = \"2 ft\"\n")), "drowns"));
}
