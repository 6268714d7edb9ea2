#include <lowspot/checks/house.hpp>

#include "round_yard.hpp"

using namespace lowspot;
using namespace lowspot::checks;

namespace {
std::vector<results::CheckRecord> falls(const SimpleYard& yard) {
  std::vector<results::CheckRecord> list;
  check_fall_from_house(yard.site, yard.ground, list);
  return list;
}
// A house over the whole north side: one wall, at y = 30 ft.
SimpleYard below_a_house(double slope) {
  SimpleYard yard = yard_in_feet([=](double, double y) { return 100 + slope * y; });
  add_house(yard, -1, 30, 121, 41);
  return yard;
}
} // namespace

TEST_CASE("the ground falls six inches in ten feet, or does not") {
  CHECK(the(falls(below_a_house(0.05)), "house_fall").found_value == Approx(0.05));
  CHECK(outcome(the(falls(below_a_house(0.05)), "house_fall")) == "pass");
  CHECK(outcome(the(falls(below_a_house(0.049)), "house_fall")) == "fail");
  const auto towards = the(falls(below_a_house(-0.01)), "house_fall");
  CHECK(towards.found_value == Approx(-0.01));
  CHECK_THAT(towards.found, ContainsSubstring("towards the house"));
  CHECK_FALSE(towards.of_works);
  // A place on the wall is told to a tenth of a foot.
  const std::string place = towards.found.substr(towards.found.find('[') + 1);
  const std::size_t point = place.find('.');
  CHECK((point == std::string::npos || point > place.find(']') || !std::isdigit(place[point + 2])));
}

TEST_CASE("level ground is said to fall neither way, whatever the rounding") {
  SimpleYard yard = below_a_house(0);
  const Grid& grid = yard.ground.grid;
  for (std::size_t c = 0; c < grid.cells(); ++c) yard.ground.elevation[c] -= 1e-12 * grid.y(grid.row(c));
  const auto level = the(falls(yard), "house_fall");
  CHECK(level.found.rfind("0 % at", 0) == 0);
  CHECK_THAT(level.found, ContainsSubstring("where it falls least"));
  CHECK(outcome(level) == "fail");
}

TEST_CASE("paving need only fall two in a hundred") {
  SimpleYard yard = below_a_house(0.02);
  CHECK(outcome(the(falls(yard), "house_fall")) == "fail");
  yard.ground.pervious.assign(yard.ground.grid.cells(), 0.0);
  CHECK(outcome(the(falls(yard), "house_fall_paved")) == "pass");
}

TEST_CASE("only the fall out to ten feet counts") {
  SimpleYard yard =
      yard_in_feet([](double, double y) { return y > 20 ? 100 + 0.06 * (y - 20) : 100 - 0.2 * (y - 20); });
  add_house(yard, -1, 30, 121, 41);
  CHECK(outcome(the(falls(yard), "house_fall")) == "pass"); // a ditch 10 ft away is its own matter
}

TEST_CASE("the worst place is found") {
  SimpleYard yard =
      yard_in_feet([](double x, double y) { return 100 + (x > 60 && x < 64 ? 0.01 : 0.06) * y; });
  add_house(yard, -1, 30, 121, 41);
  const auto worst = the(falls(yard), "house_fall");
  CHECK(worst.found_value == Approx(0.01));
  CHECK(outcome(worst) == "fail");
}

TEST_CASE("a bed between house and terrace, and the step between them, have no part in the terrace's fall") {
  // A bed to 4 ft from the wall, falling 6 %, and a terrace 4 in higher that falls 3 % away.
  SimpleYard yard = yard_in_feet(
      [](double, double y) { return y > 26 ? 99 - 0.06 * (30 - y) : 99.3333 - 0.03 * (26 - y); });
  add_house(yard, -1, 30, 121, 41);
  const Grid& grid = yard.ground.grid;
  for (std::size_t c = 0; c < grid.cells(); ++c)
    if (grid.y(grid.row(c)) < 26 * foot) yard.ground.pervious[c] = 0;
  const auto terrace = the(falls(yard), "house_fall_paved");
  CHECK(terrace.found_value == Approx(0.03));
  CHECK(outcome(terrace) == "pass");
  const auto bed = the(falls(yard), "house_fall");
  CHECK(bed.found_value == Approx(0.06));
  CHECK(outcome(bed) == "pass");
}

TEST_CASE("a house with hardly any ground in the file before its walls is not passed over in silence") {
  SimpleYard yard = yard_in_feet([](double, double y) { return 100 + 0.05 * y; });
  add_house(yard, -1, 2, 121, 41); // two feet of yard in the south of it
  const auto found = the(falls(yard), "house_fall");
  CHECK(outcome(found) == "unknown");
  CHECK_THAT(found.missing, ContainsSubstring("shoot it"));
  CHECK_FALSE(found.of_works);
}
