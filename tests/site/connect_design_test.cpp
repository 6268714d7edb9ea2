#include <lowspot/site/connect_design.hpp>

#include <cmath>

#include "sample.hpp"

using namespace sample;

namespace {
const std::string leg =
    "[[design.run]]\nname = \"leg\"\npath = [[10, 20], [30, 20]]\npipe = \"3 in corrugated, slotted\"\n";
const std::string carrier =
    "[[design.run]]\nname = \"carrier\"\npath = [[30, 20], [60, 10]]\npipe = \"3 in corrugated, solid\"\n";
const std::string tee = "[[design.fitting]]\nname = \"tee\"\nat = [30, 20]\n";
} // namespace

TEST_CASE("a run that leads nowhere ends in the open at its foot") {
  const auto site = read(yard("[[design]]\n" + leg));
  const auto& design = site.designs.at(0);
  CHECK(design.name == "design 1");
  REQUIRE(design.outlets.size() == 1);
  CHECK(design.outlets[0].name == "leg outlet");
  CHECK(design.outlets[0].kind == "daylight");
  CHECK(design.outlets[0].at.x == Approx(30 * 0.3048));
  CHECK(design.runs.at(0).to == "leg outlet");
  CHECK_THAT(assumed(site, "design[1].run[1].to"), ContainsSubstring("daylight outlet"));
}

TEST_CASE("ends that meet a fitting or an outlet are joined to it") {
  const auto site =
      read(yard("[[design]]\n" + leg + carrier + tee + "[[design.outlet]]\nname = \"out\"\nat = [60, 10]\n"));
  const auto& design = site.designs.at(0);
  CHECK(design.runs[0].to == "tee");
  CHECK(design.runs[1].from == "tee");
  CHECK(design.runs[1].to == "out");
  CHECK(design.outlets.size() == 1);
  CHECK_THAT(assumed(site, "design[1].run[2].from"), ContainsSubstring("tee"));
  CHECK_THAT(assumed(site, "design[1].run[2].to"), ContainsSubstring("out"));
}

TEST_CASE("only a free head gets the usual depth: one that carries on takes the invert that arrives") {
  const auto site = read(yard("[[design]]\n" + leg + carrier + tee));
  CHECK(site.designs.at(0).runs[0].trench_depth == Approx(0.4572));
  CHECK(std::isnan(site.designs.at(0).runs[1].trench_depth));
}

TEST_CASE("a run without a fall is laid to its outlet's invert, or falls one in a hundred") {
  const auto site = read(yard("[[design]]\n" + leg + carrier + tee +
                              "[[design.outlet]]\nname = \"out\"\nat = [60, 10]\ninvert = 96.95\n"));
  CHECK(site.designs.at(0).runs[0].fall == 0.01);
  CHECK(assumed(site, "design[1].run[1].fall") == "1 %");
  CHECK(std::isnan(site.designs.at(0).runs[1].fall));
  CHECK(assumed(site, "design[1].run[2].fall") == "what leads to the invert of \"out\", 96.95 ft");
}

TEST_CASE("a depth of its own on a run that carries on is said to be unused, where it says something new") {
  const auto with = [](const std::string& first, const std::string& second, const std::string& more = "") {
    return read(yard(
        "[[design]]\n" + leg + "trench = { depth = \"" + first + "\" }\n" + tee +
        "[[design.run]]\nname = \"on\"\npath = [[30, 20], [60, 10]]\npipe = \"3 in corrugated, slotted\"\n"
        "trench = { depth = \"" +
        second + "\" }\n" + more));
  };
  CHECK(warned(with("18 in", "24 in"), "design[1].run[2].trench.depth: 24 in is not used"));
  CHECK_FALSE(warned(with("18 in", "18 in"), "is not used"));
  CHECK_FALSE(warned(with("18 in", "24 in", "inverts = [97, 96.5]\n"), "begins where"));
}

TEST_CASE("a run from an inlet that says how deep its pipe lies begins there, not at the usual depth") {
  const auto with = [](const std::string& depth) {
    return read(yard("[[design]]\n" + leg +
                     "[[design.inlet]]\nname = \"grate\"\nat = [10, 20]\nsize = \"12 in\"\n" + depth));
  };
  const auto stated = with("depth = \"10 in\"\n");
  CHECK(std::isnan(stated.designs.at(0).runs[0].trench_depth));
  CHECK(assumed(stated, "design[1].run[1].trench.depth") ==
        "what meets the pipe of \"grate\", 10 in under the ground");
  CHECK(with("").designs.at(0).runs[0].trench_depth == Approx(0.4572));
}
