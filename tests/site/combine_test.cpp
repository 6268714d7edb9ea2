#include <lowspot/site/combine.hpp>

#include <algorithm>

#include "catch.hpp"

using namespace lowspot;
using namespace lowspot::site;

namespace {
Run straight(const std::string& name, Point head, Point foot, const std::string& to) {
  Run run;
  run.name = name;
  run.path = {head, foot};
  run.pipe.diameter = 0.1;
  run.to = to;
  return run;
}
Outlet outlet(const std::string& name, Point at) {
  Outlet made;
  made.name = name;
  made.kind = "daylight";
  made.at = at;
  return made;
}
Design piped(const std::string& name, double x) {
  Design design;
  design.name = name;
  design.runs = {straight("carrier", {x, 10}, {x, 0}, "end")};
  design.outlets = {outlet("end", {x, 0})};
  return design;
}
Basin basin(const std::string& name, double x) {
  Basin made;
  made.name = name;
  made.outline = {{x, 0}, {x + 4, 0}, {x + 4, 4}, {x, 4}};
  made.depth = 0.15;
  return made;
}
} // namespace

TEST_CASE("works of two designs stand side by side, the first one's first") {
  Design left = piped("left", 1), right = piped("right", 8);
  right.runs[0].name = "other carrier";
  right.outlets[0].name = right.runs[0].to = "other end";
  const Combined both = combine(left, right, Joining::together);
  CHECK(both.clashes.empty());
  CHECK(both.renamed.empty());
  REQUIRE(both.design.runs.size() == 2);
  CHECK(both.design.runs[0].name == "carrier");
  CHECK(both.design.runs[1].to == "other end");
  CHECK(both.design.name == "left");
}

TEST_CASE("a name that is taken is kept apart by its design, also where it is named") {
  Design right = piped("right", 8);
  right.downspouts = {{"spout", "carrier"}};
  const Combined both = combine(piped("left", 1), right, Joining::together);
  CHECK(both.clashes.empty());
  REQUIRE(both.design.runs.size() == 2);
  CHECK(both.design.runs[0].to == "end");
  CHECK(both.design.runs[1].name == "carrier (right)");
  CHECK(both.design.runs[1].to == "end (right)");
  CHECK(both.design.outlets[1].name == "end (right)");
  CHECK(both.design.downspouts.at(0).to == "carrier (right)");
  CHECK(both.renamed.size() == 2);
}

TEST_CASE("works that both describe alike are built once") {
  Design right = piped("right", 1);
  right.runs.push_back(straight("leg", {5, 10}, {1, 0}, "end"));
  const Combined both = combine(piped("left", 1), right, Joining::together);
  CHECK(both.clashes.empty());
  CHECK(both.built_once.size() == 2);
  CHECK(both.design.runs.size() == 2);
  CHECK(both.design.outlets.size() == 1);
  CHECK(both.design.runs[1].to == "end");
}

TEST_CASE("two pipes in one trench, two outlets in one place and two basins on one ground clash") {
  Design wider = piped("wider", 1);
  wider.runs[0].pipe.diameter = 0.15;
  CHECK(combine(piped("left", 1), wider, Joining::together).clashes.size() == 1);

  Design well = piped("well", 8);
  well.outlets[0] = outlet("soakaway", {1, 0});
  well.outlets[0].kind = "dry well";
  well.runs[0] = straight("feed", {8, 9}, {1, 0}, "soakaway");
  const auto clashes = combine(piped("left", 1), well, Joining::together).clashes;
  REQUIRE(clashes.size() == 1);
  CHECK(clashes[0].find("soakaway") != std::string::npos);

  Design garden, other;
  garden.basins = {basin("garden", 0)};
  other.basins = {basin("pool", 3)};
  CHECK(combine(garden, other, Joining::together).clashes.size() == 1);
  other.basins = {basin("garden", 4.5)};
  other.name = "other";
  const Combined apart = combine(garden, other, Joining::together);
  CHECK(apart.clashes.empty());
  CHECK(apart.design.basins.at(1).name == "garden (other)");
}

TEST_CASE("a small basin in a large one clashes, basins that touch do not") {
  Design garden, other;
  garden.basins = {basin("garden", 0)};
  garden.basins[0].outline = {{0, 0}, {30, 0}, {30, 30}, {0, 30}};
  other.basins = {basin("pool", 0)};
  const auto clashes = [&](double west, double south, double side) {
    other.basins[0].outline = {
        {west, south}, {west + side, south}, {west + side, south + side}, {west, south + side}};
    return combine(garden, other, Joining::together).clashes.size() +
           combine(other, garden, Joining::together).clashes.size();
  };
  CHECK(clashes(15.1, 15.1, 0.6) == 2);
  CHECK(clashes(29.9, 29.9, 5) == 2); // corner in corner
  CHECK(clashes(30, 7.3, 5) == 0);
  CHECK(clashes(30.01, 7.3, 5) == 0);
  other.basins[0].outline = {{-9, 29.7}, {39, 29.9}, {39, 35}, {-9, 35}}; // a sliver along its side
  CHECK(combine(garden, other, Joining::together).clashes.size() == 1);
  // A ring open to the east around what lies in its hollow.
  garden.basins[0].outline = {{0, 0}, {30, 0}, {30, 4}, {4, 4}, {4, 26}, {30, 26}, {30, 30}, {0, 30}};
  CHECK(clashes(10, 10, 8) == 0);
}

TEST_CASE("of a later stage what stands is known by name, and no downspout is") {
  Design later = piped("later", 1);
  later.runs.push_back(straight("leg", {5, 10}, {1, 0}, "end"));
  later.standing = {"carrier", "end"};
  later.downspouts = {{"spout", "carrier"}};
  CHECK(stands_already(later, "carrier"));
  CHECK_FALSE(stands_already(later, "leg"));
  const Design standing = what_stands(later);
  REQUIRE(standing.runs.size() == 1);
  CHECK(standing.runs[0].name == "carrier");
  CHECK(standing.outlets.size() == 1);
  CHECK(standing.downspouts.empty());
}

TEST_CASE("pipes that cross or meet at an outlet do not clash") {
  Design across;
  across.runs = {straight("across", {-5, 5}, {5, 5.3}, "far")};
  across.outlets = {outlet("far", {5, 5.3})};
  CHECK(combine(piped("left", 1), across, Joining::together).clashes.empty());
}

TEST_CASE("a downspout goes one way only, but a later stage may send it elsewhere") {
  Design left = piped("left", 1), right = piped("right", 8);
  left.downspouts = {{"spout", "carrier"}};
  right.downspouts = {{"spout", "ground"}};
  CHECK(combine(left, right, Joining::together).clashes.size() == 1);
  const Combined later = combine(left, right, Joining::after);
  CHECK(later.clashes.empty());
  REQUIRE(later.design.downspouts.size() == 1);
  CHECK(later.design.downspouts[0].to == "ground");
}

TEST_CASE("many designs are combined in their order") {
  const Design a = piped("a", 1), b = piped("b", 4), c = piped("c", 8);
  const Combined all = combine_all({&a, &b, &c}, "all");
  CHECK(all.design.name == "all");
  REQUIRE(all.design.runs.size() == 3);
  CHECK(all.design.runs[2].name == "carrier (c)");
  CHECK(all.renamed.size() == 4);
}
