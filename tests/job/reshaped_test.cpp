#include "catch.hpp"
#include "designs.hpp"

#include <algorithm>

#include <lowspot/job/reshaped.hpp>

using namespace lowspot;

TEST_CASE("a swale reshapes its sides, a plane all of its outline, and what stands nothing") {
  const SimpleYard yard = level_yard();
  site::Design design;
  const auto square_feet = [&] {
    const Mask cells = job::reshaped_cells(yard.site, design, yard.ground);
    return static_cast<double>(std::count(cells.begin(), cells.end(), 1)) * 0.25; // cells of half a foot
  };
  CHECK(square_feet() == 0);
  site::Regrade swale;
  swale.name = "way", swale.kind = "swale", swale.width = 2 * foot; // 1 ft deep, sides 1 to 3: 8 ft wide
  swale.path = {{20 * foot, 10 * foot, 99 * foot}, {80 * foot, 10 * foot, 99 * foot}};
  design.regrades = {swale};
  CHECK(square_feet() > 0.9 * 60 * 8);
  CHECK(square_feet() < 68 * 8);
  const double one = square_feet();
  site::Regrade plane;
  plane.name = "plane", plane.kind = "plane"; // on the level of the yard
  plane.outline = {
      {90 * foot, 5 * foot}, {110 * foot, 5 * foot}, {110 * foot, 15 * foot}, {90 * foot, 15 * foot}};
  plane.surface = {{90 * foot, 5 * foot, 100 * foot},
                   {110 * foot, 5 * foot, 100 * foot},
                   {90 * foot, 15 * foot, 100 * foot}};
  design.regrades = {swale, plane};
  CHECK(square_feet() == Approx(one + 200));
  design.standing = {"way", "plane"};
  CHECK(square_feet() == 0);
}

TEST_CASE("a plane reshapes as much ground as its outline holds, however it lies across the cells") {
  const SimpleYard yard = level_yard();
  site::Design design;
  site::Regrade plane;
  plane.name = "plane", plane.kind = "plane"; // a foot below the yard, 20 by 10 ft turned by 30 degrees
  const double c = 0.8660254037844387, s = 0.5;
  for (const Point& p : {Point{-10, -5}, Point{10, -5}, Point{10, 5}, Point{-10, 5}})
    plane.outline.push_back({(60 + c * p.x - s * p.y) * foot, (10 + s * p.x + c * p.y) * foot});
  for (const Point& p : {Point{0, 0}, Point{10, 0}, Point{0, 10}})
    plane.surface.push_back({p.x * foot, p.y * foot, 99 * foot});
  design.regrades = {plane};
  const Mask cells = job::reshaped_cells(yard.site, design, yard.ground);
  CHECK(static_cast<double>(std::count(cells.begin(), cells.end(), 1)) * 0.25 == Approx(200).epsilon(0.01));
}
