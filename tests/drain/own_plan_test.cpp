#include <lowspot/drain/own_plan.hpp>

#include <cmath>
#include <numbers>

#include <lowspot/drain/network.hpp>

#include "catch.hpp"
#include "layouts.hpp"

using namespace lowspot;
using namespace lowspot::drain;
using namespace lowspot::drain::testing;

namespace {
constexpr double width = 0.3;

Run leg(const std::string& name, const Point& head, const Point& foot, const std::string& to) {
  Run run = straight_run(name, 0, 1, 99.5, 99.5);
  run.path = {head, foot};
  run.to = to;
  return run;
}
double plan_of_all(const Layout& layout) {
  double sum = 0;
  for (const Station& station : make_stations(layout, level_ground)) sum += plan_of(station);
  return sum;
}
} // namespace

TEST_CASE("of a trench that leads to the middle of a dry well the part in its pit is the well's") {
  constexpr double radius = 0.6, half = width / 2;
  Layout layout;
  layout.runs = {leg("run", {0, 0}, {6, 0}, "well")};
  Outlet well;
  well.name = "well";
  well.kind = OutletKind::dry_well;
  well.at = {6, 0};
  well.chamber = {0.4 * std::numbers::pi * radius * radius, 98.5, 100, 0,
                  std::numbers::pi * radius * radius,       0,    0};
  layout.outlets = {well};
  // The strip of the trench within half of the circle.
  const double shared =
      half * std::sqrt(radius * radius - half * half) + radius * radius * std::asin(half / radius);
  CHECK_THAT(plan_of_all(layout), WithinAbs(6 * width - shared, 0.03 * shared)); // the little that is left
  const Network network = make_network(layout, level_ground);
  double storage = 0; // and so holds the network
  for (const StoneStore& stone : network.stones) storage += stone.area;
  CHECK_THAT(storage, WithinAbs(0.38 * (6 * width - shared), 0.38 * 0.03 * shared));
  CHECK(in_pit(layout, {5.5, 0.1}));
  CHECK_FALSE(in_pit(layout, {5.3, 0.1}));
}

TEST_CASE("where trenches meet or cross the ground is dug once, however they lie") {
  for (const double turn : {0.0, 0.5, 2.0}) {
    const auto at = [&](double x, double y) {
      return Point{3 + std::cos(turn) * x - std::sin(turn) * y, 4 + std::sin(turn) * x + std::cos(turn) * y};
    };
    CAPTURE(turn);
    Layout tee; // two legs in a line and a third across, to the middle
    tee.runs = {leg("a", at(-5, 0), at(0, 0), "t"), leg("b", at(5, 0), at(0, 0), "t"),
                leg("c", at(0, 5), at(0, 0), "t")};
    CHECK_THAT(plan_of_all(tee), WithinAbs(15 * width - width * width / 2, 0.002));
    Layout crossing;
    crossing.runs = {leg("a", at(-5, 0), at(5, 0), "o"), leg("b", at(0.1, 5), at(0.1, -5), "p")};
    CHECK_THAT(plan_of_all(crossing), WithinAbs(20 * width - width * width, 0.004));
    Layout bend; // what both share inside makes up for what both leave out outside
    bend.runs = {leg("a", at(-5, 0), at(0, 0), "t"), leg("b", at(0, 5), at(0, 0), "t")};
    CHECK_THAT(plan_of_all(bend), WithinRel(10 * width, 1e-12));
    Layout sharp; // 60 degrees between them: two of a quarter of its square by the cotangent of 30 degrees
    sharp.runs = {
        leg("a", at(5, 0), at(0, 0), "t"),
        leg("b", at(5 * std::cos(std::numbers::pi / 3), 5 * std::sin(std::numbers::pi / 3)), at(0, 0), "t")};
    CHECK_THAT(plan_of_all(sharp), WithinAbs(10 * width - width * width / 4 * std::sqrt(3.0), 0.002));
  }
}
