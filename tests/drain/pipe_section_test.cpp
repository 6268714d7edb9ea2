#include <cmath>
#include <numbers>

#include <lowspot/drain/pipe_section.hpp>

#include "catch.hpp"

using namespace lowspot::drain;

TEST_CASE("depth and area are each other's inverse") {
  for (double share : {1e-6, 1e-3, 0.05, 0.3, 0.5, 0.8, 0.999})
    CHECK_THAT(depth_for_area(0.1, wetted_area(0.1, share * 0.1)), WithinRel(share * 0.1, 1e-9));
  CHECK(depth_for_area(0.1, 0) == 0);
  CHECK(depth_for_area(0.1, 1) == 0.1);
}

TEST_CASE("the geometry is that of a circle") {
  CHECK_THAT(wetted_area(0.2, 0.1), WithinRel(std::numbers::pi / 8 * 0.04, 1e-12));
  CHECK_THAT(wetted_perimeter(0.2, 0.1), WithinRel(std::numbers::pi * 0.1, 1e-12));
  CHECK_THAT(top_width(0.2, 0.1), WithinRel(0.2, 1e-12));
  // The derivative of the area is the width, in a film too (central difference).
  for (double y : {1e-5, 1e-3, 0.02, 0.15}) {
    const double step = 1e-4 * y;
    const double slope = (wetted_area(0.2, y + step) - wetted_area(0.2, y - step)) / (2 * step);
    CHECK_THAT(slope, WithinRel(top_width(0.2, y), 1e-6));
  }
}

TEST_CASE("critical depth makes the Froude number one") {
  for (double q : {1e-5, 1e-3, 5e-3, 2e-2}) {
    const double y = critical_depth(0.1, q);
    const double area = wetted_area(0.1, y);
    CHECK_THAT(q * q * top_width(0.1, y) / (gravity * area * area * area), WithinRel(1, 1e-6));
  }
}

TEST_CASE("a pipe that cannot carry a flow is full") {
  CHECK(normal_depth(0.1, 0.012, 0.01, 1) == 0.1);
  CHECK(normal_depth(0.1, 0.012, 0, 1e-3) == 0.1);
  CHECK(normal_depth(0.1, 0.012, 0.01, 0) == 0);
}

TEST_CASE("the section of the solver is smooth, rises with depth and keeps its slopes") {
  const Section section = make_section(0.1, 0.012);
  double area = -1, carries = -1;
  for (double y = -0.01; y < 0.15; y += 1.3e-4) {
    const SectionState state = at_depth(section, y);
    CHECK(state.area > area);
    CHECK(state.conveyance >= carries);
    area = state.area, carries = state.conveyance;
  }
  for (double y : {0.005, 0.03, 0.07, 0.0815, 0.12}) {
    const double step = 1e-7;
    const SectionState a = at_depth(section, y - step), b = at_depth(section, y + step),
                       c = at_depth(section, y);
    CHECK_THAT((b.area - a.area) / (2 * step), WithinRel(c.width, 1e-5));
    CHECK_THAT((b.conveyance - a.conveyance) / (2 * step), WithinAbs(c.conveyance_slope, 1e-5));
  }
  CHECK_THAT(at_depth(section, 0.05).area, WithinRel(section.full_area / 2, 1e-4));
  CHECK(at_depth(section, 1e-300).conveyance == 0); // nothing underflows into not-a-number
}

TEST_CASE("storage alone is that of the whole state") {
  const Section section = make_section(0.1, 0.012);
  for (const double y : {-0.01, 0.0, 1e-7, 0.004, 0.05, 0.095, 0.0999999, 0.1, 0.3}) {
    const SectionState whole = at_depth(section, y), storage = storage_at(section, y);
    CHECK(storage.area == whole.area);
    CHECK(storage.width == whole.width);
  }
}

TEST_CASE("a free end passes the critical or the normal flow of its depth") {
  const Section section = make_section(0.1, 0.012);
  double slope = 0;
  const double y = 0.04;
  const double area = wetted_area(0.1, y);
  const double critical = area * std::sqrt(gravity * area / top_width(0.1, y));
  CHECK_THAT(free_end_flow(section, 0, y, slope), WithinRel(critical, 1e-3));
  CHECK_THAT(free_end_flow(section, 0.05, y, slope),
             WithinRel(conveyance(0.1, 0.012, y) * std::sqrt(0.05), 1e-9));
  for (double bed : {0.0, 0.05}) {
    const double at = free_end_flow(section, bed, y, slope);
    const double claimed = slope;
    const double after = free_end_flow(section, bed, y + 1e-7, slope);
    CHECK_THAT((after - at) / 1e-7, WithinRel(claimed, 1e-4));
  }
  CHECK_THAT(froude_squared(section, critical, y), WithinRel(1, 1e-2));
}

TEST_CASE("a full pipe has no free surface: its Froude number goes to zero at the crown and stays there") {
  const Section section = make_section(0.1, 0.01);
  const double q = 3 * section.full_area;
  CHECK(froude_squared(section, q, 0.5) == 0);
  CHECK(froude_squared(section, q, 0.1) == 0);
  const double crown = 0.1 - section.slot_depth;
  CHECK(froude_squared(section, q, crown) == 0);
  CHECK(froude_squared(section, q, crown - 1e-9) < 1e-4);
  CHECK(froude_squared(section, q, 0.099) > 1);
}
