#include <lowspot/study/sideways.hpp>

#include "catch.hpp"

using namespace lowspot;

namespace {
site::Run run(const std::string& name, Polyline path, const std::string& from, const std::string& to) {
  site::Run made;
  made.name = name;
  made.path = std::move(path);
  made.from = from;
  made.to = to;
  return made;
}

// A slab in the north, two legs that flow towards each other along it, a carrier to the south.
struct Yard {
  Yard() {
    site::Area slab;
    slab.impervious = true;
    slab.outline = {{0, 10}, {20, 10}, {20, 20}, {0, 20}};
    site.areas = {slab};
    design.runs = {run("west", {{0, 8}, {10, 8}}, "", "tee"), run("east", {{20, 8}, {10, 8}}, "", "tee"),
                   run("carrier", {{10, 8}, {10, 0}}, "tee", "outlet")};
    design.fittings = {{"tee", {10, 8}}};
    site::Outlet outlet;
    outlet.name = "outlet";
    outlet.at = {10, 0};
    design.outlets = {outlet};
  }
  site::Site site;
  site::Design design;
  std::vector<bool> legs{true, true, false};
};

void check_at(const Point& found, double x, double y) {
  CHECK_THAT(found.x, WithinAbs(x, 1e-9));
  CHECK_THAT(found.y, WithinAbs(y, 1e-9));
}
} // namespace

TEST_CASE("legs move away from the slab, whichever way they flow, and the carrier follows") {
  Yard yard;
  study::move_sideways(yard.site, yard.legs, 1.5, yard.design);
  check_at(yard.design.runs[0].path[0], 0, 6.5);
  check_at(yard.design.runs[0].path[1], 10, 6.5);
  check_at(yard.design.runs[1].path[0], 20, 6.5);
  check_at(yard.design.runs[1].path[1], 10, 6.5);
  check_at(yard.design.fittings[0].at, 10, 6.5);
  check_at(yard.design.runs[2].path[0], 10, 6.5);
  check_at(yard.design.runs[2].path[1], 10, 0); // the outlet is where it is
}

TEST_CASE("a negative distance moves nearer, none leaves all as it is") {
  Yard yard;
  study::move_sideways(yard.site, yard.legs, -1, yard.design);
  check_at(yard.design.runs[0].path[0], 0, 9);
  study::move_sideways(yard.site, yard.legs, 0, yard.design);
  check_at(yard.design.runs[0].path[0], 0, 9);
}

TEST_CASE("a corner stays on both of its sides") {
  Yard yard;
  yard.design.runs = {run("leg", {{0, 8}, {22, 8}, {22, 20}}, "", "outlet")};
  study::move_sideways(yard.site, {true}, 1, yard.design);
  check_at(yard.design.runs[0].path[0], 0, 7);
  check_at(yard.design.runs[0].path[1], 23, 7);
  check_at(yard.design.runs[0].path[2], 23, 20);
}

TEST_CASE("without slab or building away is towards the outlet") {
  Yard yard;
  yard.site.areas.clear();
  study::move_sideways(yard.site, yard.legs, 2, yard.design);
  check_at(yard.design.runs[1].path[0], 20, 6);
}

TEST_CASE("a run along the edge of a slab moves off it, whichever way it flows") {
  for (const bool back : {false, true}) {
    Yard yard;
    Polyline path{{0, 10}, {10, 10}};
    if (back) std::swap(path[0], path[1]);
    yard.design.runs = {run("edge", path, "", "")};
    yard.design.fittings.clear();
    study::move_sideways(yard.site, {true}, 1.5, yard.design);
    for (const Point& at : yard.design.runs[0].path) CHECK_THAT(at.y, WithinAbs(8.5, 1e-9));
  }
}

TEST_CASE("a run that begins at the end of a channel is held there") {
  Yard yard;
  site::Channel channel;
  channel.name = "channel";
  channel.path = {{0, 9.5}, {0, 8}};
  yard.design.channels = {channel};
  study::move_sideways(yard.site, yard.legs, 1.5, yard.design);
  check_at(yard.design.runs[0].path[0], 0, 8);
  check_at(yard.design.runs[0].path[1], 10, 6.5);
}

TEST_CASE("what stands is not moved, and a new leg goes on meeting it") {
  Yard yard;
  yard.design.standing = {"carrier", "tee", "outlet"};
  study::move_sideways(yard.site, yard.legs, 1.5, yard.design);
  check_at(yard.design.runs[0].path[0], 0, 6.5);
  check_at(yard.design.runs[0].path[1], 10, 8);
  check_at(yard.design.fittings[0].at, 10, 8);
  check_at(yard.design.runs[2].path[0], 10, 8);
}
