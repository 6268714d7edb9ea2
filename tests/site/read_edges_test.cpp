#include <lowspot/site/readers.hpp>

#include "sample.hpp"

using namespace sample;

TEST_CASE("edges are open where nothing is said") {
  const auto site = read(yard(""));
  CHECK(site.edges.otherwise == site::EdgeKind::open);
  CHECK(assumed(site, "edges.default") == "open");
  CHECK_FALSE(site.edges.north);
}

TEST_CASE("sides, parts and a constant inflow") {
  const auto site = read(
      yard("[edges]\ndefault = \"wall\"\nnorth = \"open\"\n[[edges.part]]\nfrom = [60, 10]\nto = [60, 20]\n"
           "kind = \"open\"\n[[edges.inflow]]\nalong = [[0, 40], [30, 40]]\nflow = \"2 gal/min\"\n"));
  CHECK(site.edges.otherwise == site::EdgeKind::wall);
  CHECK(*site.edges.north == site::EdgeKind::open);
  CHECK_FALSE(site.edges.south);
  REQUIRE(site.edges.parts.size() == 1);
  CHECK(site.edges.parts[0].to.y == Approx(20 * 0.3048));
  REQUIRE(site.edges.inflows.size() == 1);
  CHECK(site.edges.inflows[0].time == std::vector<double>{0});
  CHECK(site.edges.inflows[0].flow.at(0) == Approx(1.26180e-4).epsilon(1e-4));
  CHECK(site.edges.inflows[0].name == "inflow 1");
}

TEST_CASE("an inflow from a file") {
  const Folder folder;
  folder.write("hill.csv", "time_min,flow_m3_per_s\n0,0\n10,0.001\n");
  const auto site = read(
      yard("[[edges.inflow]]\nname = \"hill\"\nalong = [[0, 40], [30, 40]]\nflow = \"hill.csv\"\n"), folder);
  CHECK(site.edges.inflows.at(0).time.at(1) == 600);
  CHECK(site.edges.inflows.at(0).flow.at(1) == Approx(0.001));
  const auto bare =
      read(yard("[[edges.inflow]]\nalong = [[0, 40], [30, 40]]\nflow = \"hill.csv\"\n"), folder);
  CHECK(assumed(bare, "edges.inflow[1].flow") == "not listed");
}

TEST_CASE("edges that cannot be used") {
  CHECK_THAT(error_of(yard("[edges]\ndefault = \"closed\"\n")).expected, ContainsSubstring("\"wall\""));
  const auto off = error_of(yard("[[edges.part]]\nfrom = [30, 20]\nto = [60, 20]\nkind = \"wall\"\n"));
  CHECK_THAT(off.found, ContainsSubstring("20 ft off the outline"));
  CHECK_THAT(error_of(yard("[[edges.inflow]]\nalong = [[0, 50], [30, 40]]\nflow = \"2 gal/min\"\n")).found,
             ContainsSubstring("outside the yard"));
  CHECK_THAT(error_of(yard("[[edges.inflow]]\nalong = [[0, 40], [30, 40]]\nflow = \"2 in\"\n")).expected,
             ContainsSubstring("with its unit"));
  CHECK_THAT(error_of(yard("[edge]\nnorth = \"wall\"\n")).mend, ContainsSubstring("`edges`"));
}

TEST_CASE("inflows and seeps that cannot be meant are warned of") {
  const auto with = [](const std::string& kind, const std::string& flow) {
    return read(yard("[[edges." + kind + "]]\nalong = [[0, 40], [30, 40]]\nflow = \"" + flow + "\"\n"));
  };
  CHECK(
      warned(with("inflow", "1000 gal/s"), "edges.inflow[1].flow: 60000 gal/min is more than an acre sheds"));
  CHECK(with("inflow", "100 gal/min").warnings.empty());
  CHECK(warned(with("seep", "1 m3/s"), "edges.seep[1].flow"));
  CHECK(with("seep", "2 gal/min").warnings.empty());
}

TEST_CASE("a part goes the shorter way round, and which corners it passes is listed") {
  const auto part = [](const std::string& ends) {
    return read(yard("[[edges.part]]\nkind = \"wall\"\n" + ends + "\n"));
  };
  const auto one = part("from = [50, 0]\nto = [60, 20]");
  CHECK_THAT(assumed(one, "edges.part[1].by"),
             ContainsSubstring("30 ft past [60, 0]") &&
                 ContainsSubstring("170 ft past [60, 40], [0, 40], [0, 0]"));
  CHECK_FALSE(warned(one, "nearly as long"));
  CHECK(assumed(part("from = [60, 10]\nto = [60, 20]"), "edges.part[1].by") == "not listed");
  CHECK(warned(part("from = [0, 0]\nto = [60, 40]"),
               "taken is the one of 100 ft past [60, 0], not that of 100 ft past [0, 40]"));
  const auto by = part("from = [0, 0]\nto = [60, 40]\nby = [0, 40]");
  REQUIRE(by.edges.parts.size() == 2);
  CHECK(by.edges.parts[0].to.y == Approx(40 * 0.3048));
  CHECK(by.edges.parts[1].from.x == 0);
  CHECK_FALSE(warned(by, "nearly as long"));
  // The longer way: three sides.
  CHECK(part("from = [60, 0]\nto = [60, 40]\nby = [0, 20]").edges.parts.size() == 2);
  CHECK_THAT(
      error_of(yard("[[edges.part]]\nkind = \"wall\"\nfrom = [60, 0]\nto = [60, 40]\nby = [59, 0]\n")).mend,
      ContainsSubstring("half way"));
}

TEST_CASE("a part of an edge whose ends are one place is refused") {
  const auto none = error_of(yard("[[edges.part]]\nfrom = [60, 10]\nto = [60, 10]\nkind = \"wall\"\n"));
  CHECK(none.where.line == 9);
  CHECK(none.where.key == "edges.part[1].to");
  CHECK_THAT(none.found, ContainsSubstring("the very place of `from`"));
}
