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
  const auto ties = job::swing_ties(design, corners);
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
  CHECK(job::swing_ties(design, {{"A", {0, 0}}}).empty());
}
