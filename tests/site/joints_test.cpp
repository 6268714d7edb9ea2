#include <lowspot/site/joints.hpp>

#include "sample.hpp"

using namespace sample;

namespace {
std::string patio(const std::string& more) {
  return yard("[[soil]]\ntopsoil = { conductivity = \"0.2 in/hr\" }\n[[area]]\nname = \"patio\"\nkind = "
              "\"concrete\"\n"
              "outline = [[0, 0], [10, 0], [10, 10], [0, 10]]\n" +
              more);
}
} // namespace

TEST_CASE("joints both ways: their share of the paving and what they take in") {
  const site::Site site =
      read(patio("joints = { width = \"1/8 in\", spacing = \"4 ft\", conductivity = \"5 in/hr\" }\n"));
  const double slab = 1 - 0.125 / 48;
  CHECK(site.areas[0].joint_share == Approx(1 - slab * slab));
  CHECK(site.areas[0].joint_conductivity == Approx(5 * 0.0254 / 3600));
  CHECK(read(patio("")).areas[0].joint_share == 0);
}

TEST_CASE("without a conductivity joints take what the topsoil does, and that is listed") {
  const site::Site site = read(patio("joints = { width = \"5 mm\", spacing = \"20 cm\" }\n"));
  CHECK(site.areas[0].joint_conductivity == Approx(0.2 * 0.0254 / 3600));
  CHECK_THAT(assumed(site, "area[1].joints.conductivity"), ContainsSubstring("0.2 in/hr"));
}

TEST_CASE("joints that cannot be") {
  CHECK(
      error_of(patio("impervious = false\njoints = { width = \"5 mm\", spacing = \"20 cm\" }\n")).where.key ==
      "area[1].joints");
  CHECK_THAT(error_of(patio("joints = { width = \"5 mm\", spacing = \"4 mm\" }\n")).expected,
             ContainsSubstring("less than the spacing"));
  CHECK(error_of(patio("joints = { spacing = \"4 ft\" }\n")).where.key == "area[1].joints.width");
  CHECK(warned(read(patio("joints = { width = \"2 in\", spacing = \"8 in\" }\n")), "hardly paved"));
}
