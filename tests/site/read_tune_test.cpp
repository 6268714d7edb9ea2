#include <lowspot/site/readers.hpp>

#include "sample.hpp"

using namespace sample;

namespace {
const std::string drain =
    "[[design]]\nname = \"drain\"\n[[design.run]]\nname = \"leg\"\npath = [[5, 5], [55, 5]]\npipe = \"3 in "
    "corrugated, slotted\"\n";
}

TEST_CASE("what may vary, in SI, and the limits that hold when none are written") {
  const auto site = read(
      yard(drain + "[tune]\ndesign = \"drain\"\nvary = { pipe = [\"3 in corrugated, slotted\", \"4 in "
                   "corrugated, slotted\"], depth = [\"14 in\", \"24 in\"], width = [\"8 in\"], cap = "
                   "[\"sod\", { kind = \"mulch over stone\", depth = \"3 in\" }, \"open stone\"], offset "
                   "= [\"0 in\", \"18 in\"], fall = [\"1 %\"], stone = [\"No. 57, rounded, washed\"] }\n"));
  REQUIRE(site.tune);
  CHECK(site.tune->design == "drain");
  const site::TuneLists& lists = site.tune->vary;
  REQUIRE(lists.pipes.size() == 2);
  CHECK(lists.pipes[1].diameter == Approx(0.1016));
  CHECK(lists.pipes[1].slot_area > 0);
  REQUIRE(lists.depths.size() == 2);
  CHECK(lists.depths[1] == Approx(24 * 0.0254));
  REQUIRE(lists.caps.size() == 3);
  CHECK(lists.caps[0].of_topsoil);
  CHECK(lists.caps[1].depth == Approx(3 * 0.0254));
  CHECK(lists.caps[2].of_stone);
  CHECK(lists.offsets[1] == Approx(18 * 0.0254));
  CHECK(lists.falls[0] == Approx(0.01));
  CHECK(lists.stones[0].porosity == Approx(0.38));
  CHECK(site.tune->cover == Approx(6 * 0.0254));
  CHECK(site.tune->least_fall == Approx(0.005));
  CHECK(site.tune->deepest_trench == Approx(5 * 0.3048));
  CHECK(assumed(site, "tune.limits.cover") == "6 in");
  CHECK_FALSE(read(yard(drain)).tune);
}

TEST_CASE("limits of one's own, and the only design needs no name") {
  const auto site =
      read(yard(drain + "[tune]\nvary = { depth = [\"14 in\"] }\nlimits = { cover = \"4 in\", fall = \"1 "
                        "%\", trench_depth = \"30 in\" }\n"));
  CHECK(site.tune->design == "drain");
  CHECK(site.tune->cover == Approx(4 * 0.0254));
  CHECK(site.tune->least_fall == Approx(0.01));
  CHECK(site.tune->deepest_trench == Approx(30 * 0.0254));
}

TEST_CASE("what cannot be tried is refused with the line and a way out") {
  const auto vary = [](const std::string& text) {
    return error_of(yard(drain + "[tune]\nvary = { " + text + " }\n"));
  };
  const InputError unit = vary("depth = [\"14 in\", \"2 hr\"]");
  CHECK(unit.where.line == 14);
  CHECK(unit.where.key == "tune.vary.depth");
  CHECK_THAT(vary("pipe = [\"3 in corrugatd, slotted\"]").mend, ContainsSubstring("3 in corrugated"));
  CHECK_THAT(vary("pipe = [\"4 in sewer, solid\"]").mend, ContainsSubstring("solid ones follow"));
  CHECK_THAT(vary("depth = \"14 in\"").mend, ContainsSubstring("depth = ["));
  CHECK_THAT(vary("depth = []").found, ContainsSubstring("empty list"));
  CHECK_THAT(vary("depth = [\"12 in\", \"1 ft\"]").found, ContainsSubstring("twice"));
  CHECK_THAT(vary("detph = [\"14 in\"]").mend, ContainsSubstring("depth"));
  CHECK_THAT(vary("").found, ContainsSubstring("nothing to vary"));
  CHECK_THAT(error_of(yard(drain + "[tune]\ndesign = \"drian\"\nvary = { depth = [\"14 in\"] }\n")).mend,
             ContainsSubstring("drain"));
  CHECK_THAT(error_of(yard("[tune]\nvary = { depth = [\"14 in\"] }\n")).found,
             ContainsSubstring("without a [[design]]"));
  CHECK(warned(
      read(yard(drain + "[tune]\nvary = { depth = [\"14 in\"] }\nlimits = { trench_depth = \"6 ft\" }\n")),
      "people have died"));
}
