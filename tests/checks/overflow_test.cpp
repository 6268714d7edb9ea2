#include <lowspot/checks/house.hpp>

#include "round_yard.hpp"

using namespace lowspot;
using namespace lowspot::checks;

namespace {
results::CheckRecord overflow(const SimpleYard& yard) {
  std::vector<results::CheckRecord> list;
  check_overflow(yard.site, yard.ground, list);
  return the(list, "overflow");
}
double hollow(double x, double y, double cx, double cy, double reach) {
  return std::max(0.0, 1 - std::hypot(x - cx, y - cy) / reach);
}
} // namespace

TEST_CASE("a low spot that spills away from the house") {
  SimpleYard yard = yard_in_feet([](double x, double y) { return 100 + 0.02 * y - hollow(x, y, 60, 12, 6); });
  add_house(yard, 40, 25, 80, 35);
  open_side(yard, terrain::Side::south);
  CHECK(outcome(overflow(yard)) == "pass");
}

TEST_CASE("a low spot against the wall: known by the floor alone") {
  SimpleYard yard = yard_in_feet([](double x, double y) { return 100 + 0.02 * y - hollow(x, y, 60, 22, 8); });
  add_house(yard, 40, 25, 80, 35);
  open_side(yard, terrain::Side::south);
  const auto unknown = overflow(yard);
  CHECK(outcome(unknown) == "unknown");
  CHECK_THAT(unknown.missing, ContainsSubstring("floor"));
  // The brim lies where the hollow ends downhill: 8 ft south of its middle, at y = 14 ft.
  CHECK(unknown.found_value == Approx((100 + 0.02 * 14) * foot).margin(0.02 * foot));
  yard.site.buildings[0].floor = 100.2 * foot;
  CHECK(outcome(overflow(yard)) == "fail");
  yard.site.buildings[0].floor = 100.4 * foot;
  CHECK(outcome(overflow(yard)) == "pass");
}

TEST_CASE("what spills runs along the wall, though the low spot itself keeps away") {
  // Uphill of the house: the spill runs down to it and round it.
  SimpleYard yard = yard_in_feet([](double x, double y) { return 100 + 0.05 * y - hollow(x, y, 60, 34, 4); });
  add_house(yard, 40, 10, 80, 20);
  open_side(yard, terrain::Side::south);
  const auto found = overflow(yard);
  CHECK(outcome(found) == "unknown");
  CHECK_THAT(found.found, ContainsSubstring("along its wall") || ContainsSubstring("against its wall"));
  // A wall in between sends it elsewhere.
  for (int i = 0; i < yard.ground.grid.nx; ++i)
    if (yard.ground.grid.x(i) > 30 * foot) yard.ground.crest_y[yard.ground.grid.y_face(i, 50)] = 110 * foot;
  CHECK(outcome(overflow(yard)) == "pass");
}

TEST_CASE("a pool that nothing leaves has no brim: unknown, however high the floor") {
  // A court inside walls: all sides of the yard are closed.
  SimpleYard yard = yard_in_feet([](double x, double y) { return 100 + 0.02 * y - hollow(x, y, 60, 22, 8); });
  add_house(yard, 40, 25, 80, 35);
  yard.site.buildings[0].floor = 103 * foot;
  const auto closed = overflow(yard);
  CHECK(outcome(closed) == "unknown");
  CHECK_THAT(closed.found, ContainsSubstring("nothing leaves it"));
  CHECK_THAT(closed.missing, ContainsSubstring("leave a side of the yard open"));
  open_side(yard, terrain::Side::south);
  CHECK(outcome(overflow(yard)) == "pass");
}
