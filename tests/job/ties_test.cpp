#include "catch.hpp"

#include <cmath>

#include <lowspot/job/ties.hpp>

using namespace lowspot;

namespace {
site::Site yard() {
  site::Site site;
  site.outline = {{0, 0}, {20, 0}, {20, 20}, {0, 20}};
  site::Building house;
  house.outline = {{4, 16}, {16, 16}, {16, 20}, {4, 20}};
  site.buildings = {house};
  return site;
}
} // namespace

TEST_CASE("corners are those of the house, or of the lot without one") {
  site::Site site = yard();
  CHECK(job::fixed_corners(site).size() == 4);
  CHECK(job::fixed_corners(site)[1].letter == "B");
  CHECK(job::fixed_corners(site)[1].at.x == 16);
  CHECK(job::fixed_corners(site, 3).size() == 3);
  site.buildings.clear();
  CHECK(job::fixed_corners(site)[2].at.x == 20);
}

TEST_CASE("two tapes find the point again") {
  site::Design design;
  site::Run run;
  run.name = "leg";
  run.path = {{5, 10}, {10, 10}, {10, 0}};
  design.runs = {run};
  design.outlets.resize(1);
  design.outlets[0].name = "out";
  design.outlets[0].at = {10, 0};
  const auto corners = job::fixed_corners(yard());
  const auto ties = job::swing_ties(yard(), design, corners);
  REQUIRE(ties.size() == 3); // the foot of the run is the outlet
  CHECK(ties[0].point == "out");
  CHECK(ties[1].point == "head of leg");
  CHECK(ties[2].point == "bend of leg");
  for (const job::Tie& tie : ties) {
    REQUIRE(tie.first != tie.second);
    const Point a = corners[tie.first].at, b = corners[tie.second].at;
    const double base = distance(a, b);
    const double along =
        (tie.to_first * tie.to_first - tie.to_second * tie.to_second + base * base) / (2 * base);
    const double off = std::sqrt(std::max(0.0, tie.to_first * tie.to_first - along * along));
    double nearest = 1e9;
    for (const double side : {-1.0, 1.0}) {
      const Point found{a.x + (b.x - a.x) * along / base - side * off * (b.y - a.y) / base,
                        a.y + (b.y - a.y) * along / base + side * off * (b.x - a.x) / base};
      nearest = std::min(nearest, distance(found, tie.at));
    }
    CHECK(nearest < 1e-9);
  }
  CHECK(job::swing_ties(yard(), design, {{"A", {0, 0}}}).empty());
  design.runs[0].path = {{5, 10}, {7, 10}, {10, 10}, {10, 0}}; // a point on the line between its ends
  CHECK(job::swing_ties(yard(), design, corners).size() == 3);
}

namespace {
// A house of 12 by 9 m in a yard of 40 by 40 m.
site::Site yard_around_house() {
  site::Site site;
  site.outline = {{-14, -15}, {26, -15}, {26, 25}, {-14, 25}};
  site::Building house;
  house.outline = {{0, 0}, {12, 0}, {12, 9}, {0, 9}};
  site.buildings = {house};
  return site;
}
job::Tie tie_of(const site::Site& site, const Point& at) {
  site::Design design;
  design.fittings = {{"tee", at}};
  return job::swing_ties(site, design, job::fixed_corners(site)).at(0);
}
} // namespace

TEST_CASE("no tape goes through the house") {
  const site::Site site = yard_around_house();
  const job::Tie behind = tie_of(site, {6, 10}); // a metre behind the middle of its north wall
  CHECK(behind.in_sight);
  CHECK(behind.first == 2);
  CHECK(behind.second == 3);
  CHECK_THAT(behind.to_first, WithinAbs(std::sqrt(37.0), 1e-12));
  // Along a wall, and past a corner, the tape lies outside.
  const job::Tie in_line = tie_of(site, {12, 14});
  CHECK(in_line.in_sight);
  CHECK((in_line.first == 1 || in_line.second == 3));
  for (double x = -13; x < 26; x += 2.5)
    for (const double y : {-6.0, -1.0, 3.0, 8.0, 10.0, 17.0}) {
      if (x > 0 && x < 12 && y > 0 && y < 9) continue;
      const job::Tie tie = tie_of(site, {x, y});
      const auto corners = job::fixed_corners(site);
      for (const std::size_t corner : {tie.first, tie.second})
        for (int k = 1; k < 400; ++k) {
          const double share = k / 400.0;
          const Point along{x + share * (corners[corner].at.x - x), y + share * (corners[corner].at.y - y)};
          const bool inside = along.x > 0.07 && along.x < 11.93 && along.y > 0.07 && along.y < 8.93;
          if (inside) FAIL("a tape from " << x << ", " << y << " to corner " << corner);
        }
    }
}

TEST_CASE("a point that sees fewer than two corners has no tie") {
  site::Site site = yard_around_house();
  site::Building garage; // a wall from east to west, which hides all that lies behind it
  garage.outline = {{-13, 9.5}, {25, 9.5}, {25, 10}, {-13, 10}};
  site.buildings.push_back(garage);
  site::Design design;
  design.fittings = {{"tee", {6, 15}}};
  const auto of_the_house = job::fixed_corners(site, 4);
  CHECK_FALSE(job::swing_ties(site, design, of_the_house).at(0).in_sight);
  design.fittings = {{"tee", {6, -5}}};
  CHECK(job::swing_ties(site, design, of_the_house).at(0).in_sight);
}

TEST_CASE("where the tapes meet a second time in the yard, the side is told") {
  site::Site lot = yard_around_house();
  lot.buildings.clear();
  site::Design design;
  design.fittings = {{"north", {4, 6}}, {"south", {4, -6}}};
  const std::vector<job::Corner> posts = {{"A", {0, 0}}, {"B", {10, 0}}};
  const auto ties = job::swing_ties(lot, design, posts);
  CHECK(ties.at(0).side == "left");
  CHECK(ties.at(1).side == "right");
  lot.outline = {{-14, -5}, {26, -5}, {26, 25}, {-14, 25}}; // the other place is the neighbour's
  CHECK(job::swing_ties(lot, design, posts).at(0).side.empty());
  CHECK(tie_of(yard_around_house(), {6, 10}).side.empty()); // the other place is in the house
}
