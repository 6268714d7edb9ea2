#include <lowspot/checks/roots.hpp>

#include "round_yard.hpp"

using namespace lowspot;
using namespace lowspot::checks;

TEST_CASE("a long straight trench cuts off the segment of the circle behind it") {
  const double radius = 3, gap = 1.2, width = 0.3;
  const std::vector<Dug> cut = trench("drain", {{-50, gap + width / 2}, {50, gap + width / 2}}, width);
  // Segment of a circle at distance d: R2 acos(d / R) - d sqrt(R2 - d2).
  const double segment =
      radius * radius * std::acos(gap / radius) - gap * std::sqrt(radius * radius - gap * gap);
  CHECK(share_cut_off({0, 0}, radius, cut) == Approx(segment / (M_PI * radius * radius)).margin(2e-4));
  CHECK(share_cut_off({0, -5}, radius, cut) == 0);
  CHECK(share_cut_off({0, gap + width / 2}, radius, cut) == Approx(1)); // through the trunk
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

TEST_CASE("roots are cut by pits, boxes and rain gardens, too") {
  SimpleYard yard = level_yard();
  yard.site.trees = {{"oak", {60 * foot, 20 * foot}, 10 * inch, 0}}; // critical radius 10 ft
  site::Design design;
  design.name = "pits";
  const auto found = [&] {
    std::vector<results::CheckRecord> list;
    check_roots(yard.site, lay_out(yard.site, yard.ground, design), list);
    return list;
  };
  CHECK(found().empty()); // nothing is dug
  site::Outlet well;
  well.name = "well";
  well.kind = "dry well";
  well.at = {66 * foot, 20 * foot};
  well.well = {M_PI * 4 * foot * foot, 4 * M_PI * foot, 4 * foot, 0.4, 1e-6}; // 4 ft across, 6 ft away
  design.outlets = {well};
  // Tangents at asin(2/6) to either side; behind its near face r = 6 cos t - sqrt(4 - 36 sin2 t) feet.
  const double half = std::asin(1.0 / 3);
  double lost = 0;
  constexpr int pieces = 20000;
  for (int k = 0; k < pieces; ++k) {
    const double t = half * (k + 0.5) / pieces, s = 6 * std::sin(t);
    const double r = 6 * std::cos(t) - std::sqrt(4 - s * s);
    lost += (1 - r * r / 100) * half / pieces / M_PI;
  }
  CHECK(the(found(), "roots").found_value == Approx(lost).margin(1e-3));
  CHECK_THAT(the(found(), "roots").found, ContainsSubstring("well is dug") && ContainsSubstring("48 in"));
  design.outlets.clear();
  site::Basin garden;
  garden.name = "garden";
  garden.outline = {
      {55 * foot, 15 * foot}, {65 * foot, 15 * foot}, {65 * foot, 25 * foot}, {55 * foot, 25 * foot}};
  garden.depth = 6 * inch;
  design.basins = {garden};
  CHECK(the(found(), "roots").found_value == Approx(1)); // the trunk stands in it
  CHECK(outcome(the(found(), "roots")) == "fail");
  design = round_design();
  const double of_trench = the(found(), "roots").found_value;
  site::Inlet box;
  box.name = "box";
  box.to = "main";
  box.pipe = 4 * inch;
  box.at = {60 * foot, 17 * foot};
  box.grate.width = box.grate.length = 1 * foot;
  design.inlets = {box};
  CHECK(the(found(), "roots").found_value > of_trench + 0.02);
  CHECK_THAT(the(found(), "roots").found, ContainsSubstring("box is dug"));
}

TEST_CASE("what stands from an earlier stage cuts no roots again") {
  SimpleYard yard = level_yard();
  yard.site.trees = {{"oak", {60 * foot, 16 * foot}, 10 * inch, 0}}; // critical radius 10 ft
  site::Design design = round_design();
  const auto found = [&] {
    std::vector<results::CheckRecord> list;
    check_roots(yard.site, lay_out(yard.site, yard.ground, design), list);
    return list;
  };
  const double of_trench = the(found(), "roots").found_value;
  const Polygon around_trunk = {
      {58 * foot, 14 * foot}, {62 * foot, 14 * foot}, {62 * foot, 18 * foot}, {58 * foot, 18 * foot}};
  site::Basin garden;
  garden.name = "garden";
  garden.outline = around_trunk;
  site::Amend bed;
  bed.name = "bed";
  bed.outline = around_trunk;
  site::Inlet box;
  box.name = "box";
  box.to = "main";
  box.pipe = 4 * inch;
  box.at = {60 * foot, 13 * foot};
  box.grate.width = box.grate.length = 1 * foot;
  site::Channel gutter;
  gutter.name = "gutter";
  gutter.path = {{50 * foot, 13 * foot}, {70 * foot, 13 * foot}};
  gutter.width = gutter.depth = 6 * inch;
  gutter.capacity = 0.01;
  gutter.to = "main";
  design.basins = {garden};
  design.amends = {bed};
  design.inlets = {box};
  design.channels = {gutter};
  CHECK(the(found(), "roots").found_value == Approx(1)); // the trunk stands in the garden
  design.standing = {"garden", "bed", "box", "gutter"};
  CHECK(the(found(), "roots").found_value == Approx(of_trench));
  design.standing.emplace_back("main"); // then nothing at all is dug
  CHECK(found().empty());
}
