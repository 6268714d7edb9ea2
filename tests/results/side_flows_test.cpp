#include "catch.hpp"

#include <lowspot/results/side_flows.hpp>

using namespace lowspot;
using results::side_flows;

namespace {

struct Sides {
  site::Site site;
  site::Design design;
  results::DesignRecord record;
  Sides() {
    site.outline = {{0, 0}, {20, 0}, {20, 10}, {0, 10}};
    record.edges = {{"west", 0, 0}, {"east", 0, 0}, {"south", 1e-3, 4}, {"north", 0, 0}};
    record.outlets = {{"pipe", 2e-3, 5}};
    record.ledger.left_by_drains = 5;
    site::Outlet outlet;
    outlet.name = "pipe";
    outlet.kind = "daylight";
    outlet.at = {10, 0.5};
    design.outlets = {outlet};
  }
};

} // namespace

TEST_CASE("the water of an outlet at a side is added to what runs over that side") {
  const Sides data;
  const auto sides = side_flows(data.site, &data.design, data.record, 0.5);
  REQUIRE(sides.size() == 4);
  CHECK(sides[2].edge_volume == 4);
  CHECK(sides[2].piped_volume == 5);
  CHECK(sides[2].volume() == 9);
  CHECK(sides[2].peak() == Approx(3e-3));
  CHECK(side_flows(data.site, nullptr, data.record, 0.5)[2].volume() == 4);
}

TEST_CASE("water that an outlet, a pit or a hose leaves in the yard is not counted twice") {
  Sides data;
  data.design.outlets[0].at = {10, 5};
  CHECK(side_flows(data.site, &data.design, data.record, 0.5)[2].volume() == 4);
  data.design.outlets[0].at = {10, 0};
  data.design.outlets[0].kind = "dry well";
  CHECK(side_flows(data.site, &data.design, data.record, 0.5)[2].volume() == 4);
  data.design.outlets[0].kind = "pump";
  data.design.outlets[0].discharge = Point{10, 0.2};
  CHECK(side_flows(data.site, &data.design, data.record, 0.5).size() == 4);
}

TEST_CASE("an outlet near the limit whose water stayed in the yard, by the books, is not counted twice") {
  Sides data;
  data.record.ledger.left_by_drains = 0;
  CHECK(side_flows(data.site, &data.design, data.record, 0.5)[2].volume() == 4);
  // Of two, the one at the limit is the one whose water left.
  data.design.outlets.push_back(data.design.outlets[0]);
  data.design.outlets[1].name = "second";
  data.design.outlets[1].at = {5, 0};
  data.record.outlets.push_back({"second", 1e-3, 3});
  data.record.ledger.left_by_drains = 3;
  CHECK(side_flows(data.site, &data.design, data.record, 0.5)[2].piped_volume == 3);
}

TEST_CASE("a pump whose hose ends outside sends its water beyond the yard at no side") {
  Sides data;
  data.design.outlets[0].kind = "pump";
  const auto sides = side_flows(data.site, &data.design, data.record, 0.5);
  REQUIRE(sides.size() == 5);
  CHECK(sides[4].side.empty());
  CHECK(sides[4].piped_volume == 5);
  CHECK(sides[2].volume() == 4);
}

TEST_CASE("what left by an outlet is the sum of what is booked under its name") {
  Sides data;
  data.record.outlets.push_back({"second", 1e-3, 3});
  data.record.outlets.push_back({"pipe", 1e-3, 2});
  CHECK(results::outlet_volume(data.record, "pipe") == 7);
  CHECK(results::outlet_volume(data.record, "second") == 3);
  CHECK(results::outlet_volume(data.record, "third") == 0);
}
TEST_CASE("what runs out of outlets counts wherever it runs to, what a pit takes does not") {
  Sides data;
  data.record.outlets.push_back({"bubbler", 1e-3, 3});
  data.record.outlets.push_back({"pit", 1e-3, 7});
  data.record.vessels = {{"pit", "dry well"}, {"pipe", "pump"}};
  data.record.ledger.left_by_drains = 0; // all of it stayed in the yard
  CHECK(results::volume_by_outlets(data.record) == 8);
  CHECK(results::volume_by_outlets({}) == 0);
}
