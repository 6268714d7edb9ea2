// A hillslope under steady drizzle that saturates from its toe: an obstacle problem for the water table.
#include <array>
#include <cmath>

#include "catch.hpp"
#include "figures.hpp"
#include "perched/zone.hpp"

using namespace zone;

namespace {

constexpr double slope = 0.08, depth = 0.60, conductivity = 3 / day, drizzle = 0.020 / day;

perched::Layer hillslope(double dx) {
  perched::Layer layer = flat_layer(static_cast<int>(std::lround(30 / dx)), 1, dx, depth, conductivity);
  tilt(layer, slope);
  return layer;
}

// Marches to the steady state; returned water over the last step as a rate [m2 a day].
double settle(Zone& zone, double dt) {
  for (int step = 0; step < 200; ++step) zone.advance(dt, drizzle);
  zone.returned = 0;
  zone.advance(dt, drizzle);
  return zone.returned / zone.layer.grid.cell / dt * day;
}

double between(const Zone& zone, double x) {
  const double at = x / zone.layer.grid.cell - 0.5;
  const auto i = static_cast<std::size_t>(at);
  return zone.saturated[i] + (at - static_cast<double>(i)) * (zone.saturated[i + 1] - zone.saturated[i]);
}

double first_full(const Zone& zone) {
  for (std::size_t i = 0; i < zone.saturated.size(); ++i)
    if (zone.saturated[i] >= depth * (1 - 1e-9)) return static_cast<double>(i) * zone.layer.grid.cell;
  return 30;
}

// A closed slope with `inflow` [m2 a day] in its uppermost cell, marched to the steady state; what comes out
// of the ground over the last day is `returned`.
Zone seeping_slope(double dx, double inflow) {
  Zone zone(hillslope(dx), 0.1);
  for (int step = 0; step < 600; ++step) {
    std::fill(zone.recharge.begin(), zone.recharge.end(), 0.0);
    zone.recharge[0] = inflow / dx * 1.0; // one day of it
    const perched::StepResult& result = zone.solver.step(zone.saturated, zone.porosity, zone.porosity,
                                                         zone.recharge, zone.head_above, {}, day);
    zone.returned = 0;
    for (std::size_t c = 0; c < zone.saturated.size(); ++c) {
      const double content = zone.saturated[c] * 0.1 + result.net_water[c];
      zone.returned += std::max(0.0, content - 0.1 * depth) * zone.layer.grid.cell_area();
      zone.saturated[c] = std::min(content / 0.1, depth);
    }
  }
  return zone;
}

// The table above a place where the soil is full, by small steps of the exact differential equation.
double above_full(double from, double to, double inflow) {
  double h = depth, x = from;
  while (x > to) {
    const auto rise = [&](double thickness) { return slope - inflow / (3 * thickness); };
    const double dx = -1e-3;
    h += dx * rise(h + 0.5 * dx * rise(h));
    x += dx;
  }
  return h;
}

} // namespace

TEST_CASE("A drizzled hillslope saturates from 7.2 m down and returns the rest") {
  for (double dt : {3600.0, 86400.0}) {
    Zone zone(hillslope(0.5), 0.1);
    const double returned = settle(zone, dt);
    CHECK_THAT(returned, WithinRel(0.600, 0.005));
    figures::record("perched", "drizzled hillslope", "water returned to the ground, m2/day", 0.600, returned,
                    figures::share(0.005));
    figures::record("perched", "drizzled hillslope", "full from here down, m", 7.2, first_full(zone),
                    figures::amount(0.5));
    CHECK_THAT(first_full(zone), WithinAbs(7.2, 0.5));
    const std::array<std::array<double, 2>, 4> expected = {
        {{1, 0.4088}, {2, 0.4662}, {4, 0.5484}, {6, 0.5924}}};
    for (const auto& [x, h] : expected) {
      CHECK_THAT(between(zone, x), WithinRel(h, 0.01));
      figures::record("perched", "drizzled hillslope", "saturated thickness, m", h, between(zone, x),
                      figures::share(0.01));
    }
  }
}

TEST_CASE("A toe that drains freely passes K D S and returns the rest") {
  perched::Layer layer = hillslope(0.5);
  layer.outflow_faces = {{layer.grid.nx - 1, 1}};
  Zone zone(layer, 0.1);
  const double returned = settle(zone, day);
  CHECK_THAT(returned, WithinRel(0.456, 0.005));
  figures::record("perched", "hillslope with an open toe", "water returned to the ground, m2/day", 0.456,
                  returned, figures::share(0.005));
  const double left = zone.advance(day, drizzle).left_through[0] / 0.5;
  CHECK_THAT(left, WithinRel(0.144, 0.005));
  figures::record("perched", "hillslope with an open toe", "flow through the toe, K D S, m2/day", 0.144, left,
                  figures::share(0.005));
}

TEST_CASE("The hillslope table converges at second order") {
  std::array<double, 3> h{};
  for (int level = 0; level < 3; ++level) {
    Zone zone(hillslope(0.4 / (1 << level)), 0.1);
    settle(zone, day);
    h[level] = between(zone, 2);
  }
  const double order = std::log2(std::abs((h[0] - h[1]) / (h[1] - h[2])));
  CHECK(order > 1.6);
  figures::record("perched", "drizzled hillslope", "order in dx", order, figures::at_least(1.6));
}

TEST_CASE("A hillside that stays saturated above brings K H S, evenly deep all the way down") {
  // Exact: over a parallel layer, uniform flow K H S needs no other thickness than the one it comes with.
  perched::Layer layer = hillslope(0.5);
  layer.inflow_faces = {{0, 0, 0.25}};
  layer.outflow_faces = {{layer.grid.nx - 1, 1}};
  Zone zone(layer, 0.1);
  for (int step = 0; step < 400; ++step) zone.advance(day, 0);
  const perched::StepResult& last = zone.advance(day, 0);
  CHECK_THAT(last.entered[0] / 0.5, WithinRel(3 * 0.25 * slope, 1e-6)); // m2 a day
  CHECK_THAT(last.left_through[0], WithinRel(last.entered[0], 1e-6));
  for (const double h : zone.saturated) CHECK_THAT(h, WithinRel(0.25, 1e-6));
  CHECK(zone.returned == 0);
}

TEST_CASE("A seep fills a closed slope from its toe and comes out of the ground there") {
  // Steady: all that enters returns where the soil is full; above it h' = S - q / (K h) with q the inflow.
  const double inflow = 0.06; // m2 a day, less than K D S = 0.144
  const Zone zone = seeping_slope(0.25, inflow);
  CHECK_THAT(zone.returned / 0.25, WithinRel(inflow, 1e-6));
  // Where full, K D S = 0.144 m2 a day could pass but only 0.06 comes: the toe is full by backing up alone.
  const double x_full = first_full(zone);
  CHECK(x_full > 15);
  const double target = 5, h = above_full(x_full, target, inflow);
  CHECK_THAT(between(zone, target), WithinRel(h, 0.01));
  figures::record("perched", "seep that backs up on a closed slope", "saturated thickness, m", h,
                  between(zone, target), figures::share(0.01));

  // More could pass where it is full than comes: it is full at the toe and nowhere above. Counted from there
  // the error is that of half a cell, the middle of which stands for the toe.
  const Zone fine = seeping_slope(0.125, inflow);
  CHECK_THAT(first_full(zone), WithinAbs(30 - 0.25, 1e-9));
  CHECK_THAT(first_full(fine), WithinAbs(30 - 0.125, 1e-9));
  for (const double place : {28.0, 25.0, 20.0, 15.0}) {
    const double exact = above_full(30, place, inflow);
    CAPTURE(place, exact, between(zone, place), between(fine, place));
    CHECK_THAT(between(zone, place), WithinRel(exact, 0.012));
    CHECK(std::abs(between(fine, place) - exact) < 0.55 * std::abs(between(zone, place) - exact));
  }
}
