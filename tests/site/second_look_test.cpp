#include <lowspot/site/second_look.hpp>

#include "sample.hpp"

using namespace sample;

namespace {
std::string area(const std::string& name, const std::string& rectangle) {
  return "[[area]]\nname = \"" + name + "\"\nkind = \"lawn\"\nrectangle = " + rectangle + "\n";
}
std::string sized(const std::string& head, const std::string& rectangle) {
  return "[site]\n" + head + "\nrectangle = " + rectangle + "\n[ground]\nlevels = \"levels.csv\"\n";
}
const std::string solid_run = "[[design]]\nname = \"carrier\"\n[[design.run]]\nname = \"leg\"\n"
                              "path = [[10, 20], [60, 20]]\npipe = \"4 in sewer\"\n"
                              "trench = { depth = \"18 in\" }\n";
} // namespace

TEST_CASE("a yard that no water can leave is warned of, one with a way out is not") {
  const std::string walled = "[edges]\ndefault = \"wall\"\n";
  CHECK(warned(read(yard(walled)), "edges: all sides are walls"));
  CHECK(warned(read(yard("[edges]\nnorth = \"wall\"\nsouth = \"wall\"\neast = \"wall\"\nwest = \"wall\"\n")),
               "all sides are walls"));
  CHECK_FALSE(warned(read(yard(walled + "south = \"open\"\n")), "all sides"));
  CHECK_FALSE(warned(read(yard(walled + "[[edges.part]]\nfrom = [60, 10]\nto = [60, 20]\nkind = \"open\"\n")),
                     "all sides"));
}

TEST_CASE("an area wholly under another, or under a building, is warned of") {
  const auto wrong_order = read(yard(area("patio", "[10, 10, 20, 10]") + area("all", "[0, 0, 60, 40]")));
  CHECK(warned(wrong_order, "area[1].rectangle: lies wholly under \"all\""));
  CHECK(warned(wrong_order, "move it down"));
  const auto right_order = read(yard(area("all", "[0, 0, 60, 40]") + area("patio", "[10, 10, 20, 10]")));
  CHECK(right_order.warnings.empty());
  const auto beside = read(yard(area("patio", "[10, 10, 20, 10]") + area("half", "[10, 10, 19, 40]")));
  CHECK_FALSE(warned(beside, "wholly under"));
  const std::string house = "[[building]]\nname = \"house\"\nrectangle = [10, 10, 30, 20]\n";
  CHECK(warned(read(yard(area("patio", "[10, 10, 20, 10]") + house)), "under the building \"house\""));
  // Its box is covered, but not its corner.
  const std::string bent =
      "[[area]]\nname = \"l\"\nkind = \"lawn\"\noutline = [[10, 10], [40, 10], [40, 20], "
      "[20, 20], [20, 30], [10, 30]]\n";
  CHECK_FALSE(warned(read(yard(area("whole", "[10, 10, 30, 20]") + bent)), "wholly under"));
}

TEST_CASE("a cell wider than the narrowest area is warned of") {
  const std::string strip = area("strip", "[10, 10, 20, 2]");
  const auto with = [&](const std::string& cell) {
    return read(sized("units = \"ft\"\ncell = \"" + cell + "\"", "[0, 0, 60, 40]") + strip);
  };
  CHECK(warned(with("3 ft"), "site.cell: 36 in is wider than \"strip\" (24 in across)"));
  CHECK(with("2 ft").warnings.empty());
}

TEST_CASE("designs without works, or without a way in for the water, are warned of") {
  CHECK(warned(read(yard("[[design]]\nname = \"later\"\n")), "\"later\" has no works"));
  const auto dry = read(yard(solid_run));
  CHECK(warned(dry, "design[1]: \"carrier\" has pipes, all of them solid"));
  const std::string downspout = "[[building]]\nname = \"house\"\nrectangle = [5, 25, 30, 10]\n"
                                "downspouts = [ { name = \"d\", at = [10, 24], roof = \"200 ft2\" } ]\n";
  CHECK_FALSE(warned(read(yard(downspout + solid_run + "[[design.downspout]]\nname = \"d\"\nto = \"leg\"\n")),
                     "no water gets in"));
  CHECK_FALSE(
      warned(read(yard(solid_run + "[[design.inlet]]\nname = \"grate\"\nat = [10, 20]\n")), "no water gets"));
  const std::string regraded = "[[design]]\nname = \"swale\"\n[[design.regrade]]\nname = \"side\"\n"
                               "kind = \"swale\"\npath = [[5, 35, 100], [50, 35, 99.5]]\n";
  CHECK(read(yard(regraded)).warnings.empty());
}

TEST_CASE("the size of a yard tells feet from metres, and degrees from both") {
  CHECK(warned(read(sized("units = \"m\"", "[0, 0, 64, 70]")), "write units = \"ft\""));
  CHECK_FALSE(warned(read(sized("units = \"m\"", "[0, 0, 20, 30]")), "units ="));
  CHECK(warned(read(sized("", "[0, 0, 20, 25]")), "write units = \"m\""));
  CHECK(warned(read(sized("", "[0, 0, 20, 25]")), "since `units` is not given"));
  CHECK_FALSE(warned(read(sized("units = \"ft\"", "[0, 0, 20, 25]")), "units ="));
  CHECK(warned(read(sized("units = \"ft\"", "[0, 0, 12, 15]")), "the size of a room"));
  CHECK(warned(read(sized("units = \"ft\"\ncell = \"2 ft\"", "[0, 0, 768, 840]")), "not inches"));
  const auto degrees = error_of(sized("units = \"ft\"\ncell = \"6 in\"", "[-87.1, 41.2, 0.0002, 0.0002]"));
  CHECK(degrees.where.key == "site.rectangle");
  CHECK_THAT(degrees.mend, ContainsSubstring("Degrees"));
}

TEST_CASE("water upslope that is thicker than any topsoil of the yard is said to be cut off there") {
  const auto seep = [](const std::string& thickness) {
    return read(yard("[[edges.seep]]\nalong = [[0, 40], [10, 40]]\nsaturated = \"" + thickness +
                     "\"\n[[soil]]\ntopsoil = { texture = \"silt loam\", depth = \"8 in\" }\n"));
  };
  CHECK_FALSE(warned(seep("6 in"), "saturated"));
  CHECK_FALSE(warned(seep("8 in"), "saturated"));
  CHECK(warned(seep("20 in"), "edges.seep[1].saturated: 20 in is more than the topsoil is deep, 8 in"));
}

TEST_CASE("buildings that lie over each other are pointed at; those that share a wall are not") {
  const auto two = [](const std::string& rectangle) {
    return read(yard("[[building]]\nname = \"house\"\nrectangle = [10, 10, 20, 20]\n[[building]]\nname = "
                     "\"garage\"\nrectangle = " +
                     rectangle + "\n"));
  };
  CHECK(warned(two("[25, 10, 20, 10]"), "building[2].rectangle: lies over \"house\" on 50 ft²"));
  CHECK(warned(two("[15, 15, 5, 5]"), "where the rain is counted on both roofs"));
  CHECK_FALSE(warned(two("[30, 10, 20, 10]"), "lies over"));
  CHECK_FALSE(warned(two("[29.9, 10, 20, 10]"), "lies over")); // drawn askew
}
