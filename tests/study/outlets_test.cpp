#include "catch.hpp"
#include "simple_yard.hpp"

#include <algorithm>
#include <cmath>

#include <lowspot/base/error.hpp>
#include <lowspot/study/outlets.hpp>
#include <lowspot/study/reach_ground.hpp>

using namespace lowspot;
using namespace lowspot::study;

namespace {
// A bowl in the middle of ground that falls to the south.
SimpleYard sloping() {
  SimpleYard yard = simple_yard(30, 30, 0.5, [](double x, double y) {
    return 10 + 0.08 * y - 0.2 * std::exp(-(std::pow(x - 7.25, 2) + std::pow(y - 10.25, 2)) / 2);
  });
  open_side(yard, terrain::Side::south);
  open_side(yard, terrain::Side::north);
  return yard;
}
} // namespace

TEST_CASE(
    "open sides and candidates are places to end; those in reach stand first, with what they pass under") {
  SimpleYard yard = sloping();
  site::Area bed;
  bed.name = "bed";
  bed.outline = {{5, 5}, {10, 5}, {10, 7}, {5, 7}};
  yard.site.areas = {bed};
  yard.site.walls = {{"edging", {{0, 3}, {15, 3}}, 0.1}};
  yard.site.outlet_candidates = {{"ditch", "ditch", {14.75, 0.25}, 9.0, 1},
                                 {"curb", "curb", {0.25, 14.75}, site::not_given, 2}};
  const ReachGround ground = make_reach_ground(yard.site, yard.ground);
  const auto places = outlet_places(yard.site, yard.ground, ground);
  REQUIRE(places.size() == 4);
  CHECK(places[0].name == "south edge");
  CHECK(places[0].ends.size() == 30);
  CHECK(places[1].name == "north edge");
  CHECK(places[2].ends[0].level == 9.0);
  CHECK_THAT(places[3].ends[0].level, WithinAbs(10 + 0.08 * 14.75, 1e-9));
  const double bottom = 10 + 0.08 * 10.25 - 0.2;
  const auto routes = find_outlets(yard.site, ground, places, {7.25, 10.25}, bottom - 0.2694);
  REQUIRE(routes.size() == 4);
  CHECK(routes[0].outlet == "south edge");
  CHECK(routes[0].reach == Reach::by_gravity);
  CHECK(routes[1].outlet == "ditch");
  CHECK(routes[1].reach == Reach::by_gravity);
  CHECK(routes[3].reach == Reach::too_little_fall);
  for (const OutletRoute& route : routes)
    CHECK_THAT(route.margin, WithinAbs(route.fall_available - route.fall_needed, 1e-12));
  CHECK_THAT(routes[0].length, WithinAbs(10, 0.3));
  REQUIRE(routes[0].crosses.size() == 2);
  CHECK(routes[0].crosses[0].first == "bed");
  CHECK_THAT(routes[0].crosses[0].second, WithinAbs(2, 0.15));
  CHECK(routes[0].crosses[1].first == "edging");
}

TEST_CASE(
    "an edge that is a lot line stands behind a candidate, and one with no fall to spare behind one with") {
  SimpleYard yard = sloping();
  yard.site.outlet_candidates = {{"ditch", "ditch", {14.75, 0.25}, 9.0, 1}};
  const double bottom = 10 + 0.08 * 10.25 - 0.2;
  const auto routes = [&](double invert) {
    const ReachGround ground = make_reach_ground(yard.site, yard.ground);
    return find_outlets(yard.site, ground, outlet_places(yard.site, yard.ground, ground), {7.25, 10.25},
                        invert);
  };
  const double buried = bottom - 0.2694;
  REQUIRE(routes(buried)[0].outlet == "south edge");
  // Less and less of fall to the edge: the ditch is deeper, and hardly further.
  const auto edge_of = [](const std::vector<OutletRoute>& all) {
    return *std::find_if(all.begin(), all.end(), [](const auto& one) { return one.outlet == "south edge"; });
  };
  double invert = buried;
  while (edge_of(routes(invert)).margin >= 0.0254) invert -= 0.01;
  const auto close = routes(invert);
  REQUIRE(edge_of(close).reach == Reach::by_gravity);
  CHECK(edge_of(close).excavation < close[0].excavation);
  CHECK(close[0].outlet == "ditch");
  CHECK(close[1].outlet == "south edge");
  site::KeepOff line;
  line.name = "Smith's";
  line.kind = "lot line";
  line.shape = {{0, 0}, {15, 0}};
  yard.site.keep_offs = {line};
  const auto kept = routes(buried);
  CHECK(kept[0].outlet == "ditch");
  CHECK(kept[1].outlet == "south edge");
  REQUIRE_FALSE(kept[1].crosses.empty());
  CHECK(kept[1].crosses.back().first == "lot line 'Smith's'");
}

TEST_CASE("a yard walled all round has no place to end") {
  const SimpleYard yard = simple_yard(8, 8, 0.5, [](double, double) { return 1; });
  const ReachGround ground = make_reach_ground(yard.site, yard.ground);
  CHECK(outlet_places(yard.site, yard.ground, ground).empty());
}

TEST_CASE("a candidate's level far from the ground beside it is a slip, and is refused with both") {
  SimpleYard yard = sloping();
  yard.site.file = "site.toml";
  const ReachGround ground = make_reach_ground(yard.site, yard.ground);
  const auto refused = [&](double level) {
    yard.site.outlet_candidates = {{"ditch", "ditch", {14.75, 0.25}, level, 12}};
    try {
      outlet_places(yard.site, yard.ground, ground);
    } catch (const InputError& error) {
      CHECK(error.where.line == 12);
      CHECK(error.where.key == "outlet_candidate 'ditch'.level");
      return error.found;
    }
    return std::string();
  };
  CHECK(refused(7.0).empty()); // a deep ditch: 3.02 m below 10.02 m
  CHECK(refused(13.0).empty());
  CHECK_THAT(refused(0.97), ContainsSubstring("0.97 m, 9.05 m below the ground there (10.02 m)"));
  CHECK_THAT(refused(99.7), ContainsSubstring("above the ground there"));
}
