#include <lowspot/checks/roots.hpp>

#include "round_yard.hpp"

using namespace lowspot;
using namespace lowspot::checks;

TEST_CASE("a long straight trench cuts off the segment of the circle behind it") {
  const double radius = 3, gap = 1.2, width = 0.3;
  const std::vector<Polyline> trench = {{{-50, gap + width / 2}, {50, gap + width / 2}}};
  // Segment of a circle at distance d: R2 acos(d / R) - d sqrt(R2 - d2).
  const double segment =
      radius * radius * std::acos(gap / radius) - gap * std::sqrt(radius * radius - gap * gap);
  CHECK(share_cut_off({0, 0}, radius, trench, {width}) ==
        Approx(segment / (M_PI * radius * radius)).margin(2e-4));
  CHECK(share_cut_off({0, -5}, radius, trench, {width}) == 0);
  CHECK(share_cut_off({0, gap + width / 2}, radius, trench, {width}) == Approx(1)); // through the trunk
}

TEST_CASE("trees beside the trench, by the diameter of their trunks") {
  SimpleYard yard = level_yard();
  yard.site.trees = {{"oak", {60 * foot, 16 * foot}, 10 * inch, 0},
                     {"small", {60 * foot, 25 * foot}, 6 * inch, 0}};
  std::vector<results::CheckRecord> list;
  check_roots(yard.site, lay_out(yard.site, yard.ground, round_design()), list);
  // Radius 10 ft, trench side 5.5 ft from the trunk.
  const double a = std::acos(0.55);
  CHECK(the(list, "roots", "oak").found_value == Approx((a - 0.55 * std::sin(a)) / M_PI).margin(1e-3));
  CHECK(outcome(the(list, "roots", "oak")) == "pass");
  CHECK(the(list, "roots", "small").found_value == 0);
  yard.site.trees[0].trunk = 20 * inch;
  list.clear();
  check_roots(yard.site, lay_out(yard.site, yard.ground, round_design()), list);
  CHECK(outcome(the(list, "roots", "oak")) == "fail");
}
