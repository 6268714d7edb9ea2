// Steady water tables between drains: Dupuit-Forchheimer parabolas and the case with leakage.
// Drains stand at cell centres, as exchanges of very large conductance, so that the tolerance of a head fixed
// at a centre (2 %) applies; on a level base the scheme is exact at the centres, so that far less is asked
// for here.
#include <algorithm>
#include <cmath>

#include "catch.hpp"
#include "figures.hpp"
#include "perched/zone.hpp"

using namespace zone;

namespace {

constexpr double firm = 1e4; // m2/s: holds the level of a cell

// Two drains `spacing` apart at the first and last cell centres, marched to the steady state.
Zone steady(double spacing, double dx, double conductivity, double recharge, double left, double right,
            double leakage_coefficient = 0) {
  const int cells = static_cast<int>(std::lround(spacing / dx)) + 1;
  perched::Layer layer = flat_layer(cells, 1, dx, 1.0, conductivity);
  if (leakage_coefficient > 0) { // over b = 1 m: K (H + b) / b = C H + C b
    layer.leakage_conductivity.assign(cells, leakage_coefficient);
    layer.leakage_thickness.assign(cells, 1.0);
  }
  Zone zone(layer, 0.1);
  zone.exchanges = {{0, firm, left, 1e9}, {cells - 1, firm, right, 1e9}};
  for (int step = 0; step < 60; ++step) zone.advance(10 * day, recharge);
  return zone;
}

double thickness_at(const Zone& zone, double x) {
  const double dx = zone.layer.grid.cell;
  return zone.saturated[static_cast<std::size_t>(std::lround(x / dx))];
}

} // namespace

TEST_CASE("Steady table between unequal drains is the Dupuit parabola") {
  const double recharge = 0.010 / day;
  Zone zone = steady(12, 0.5, 2 / day, recharge, 0.30, 0.50);
  const double x[] = {0.5, 2, 4, 6, 8, 10, 11.5};
  const double h[] = {0.354142, 0.465475, 0.550757, 0.591608, 0.597216, 0.568624, 0.521616};
  for (int k = 0; k < 7; ++k) {
    CHECK_THAT(thickness_at(zone, x[k]), WithinRel(h[k], 1e-4));
    figures::record("perched", "steady, unequal drains (Dupuit)", "saturated thickness, m", h[k],
                    thickness_at(zone, x[k]), figures::share(1e-4));
  }
  const perched::StepResult& result = zone.advance(10 * day, recharge);
  // The end cells' own rain goes straight to the drains: half of each lies outside the spacing.
  const double outside = recharge * 0.25;
  CHECK_THAT((result.exchanged[0] / (10 * day * 0.5) - outside) * day, WithinRel(0.0733333, 1e-4));
  figures::record("perched", "steady, unequal drains (Dupuit)", "flow to a drain, m2/day", 0.0733333,
                  (result.exchanged[0] / (10 * day * 0.5) - outside) * day, figures::share(1e-4));
  CHECK_THAT((result.exchanged[1] / (10 * day * 0.5) - outside) * day, WithinRel(0.0466667, 1e-4));
  figures::record("perched", "steady, unequal drains (Dupuit)", "flow to a drain, m2/day", 0.0466667,
                  (result.exchanged[1] / (10 * day * 0.5) - outside) * day, figures::share(1e-4));
}

TEST_CASE("Steady table between equal drains follows the ellipse") {
  Zone zone = steady(10, 0.5, 1.2 / day, 0.006 / day, 0.25, 0.25);
  const double h[] = {0.327872, 0.377492, 0.409268, 0.427200, 0.433013};
  for (int k = 0; k < 5; ++k) {
    CHECK_THAT(thickness_at(zone, k + 1.0), WithinRel(h[k], 1e-4));
    figures::record("perched", "steady, equal drains", "saturated thickness, m", h[k],
                    thickness_at(zone, k + 1.0), figures::share(1e-4));
  }
}

TEST_CASE("Steady table between drains over a leaky layer") {
  // Leakage C h is asked for; K (h + b) / b with K = C b leaks C b more, which the recharge makes up for.
  const double coefficient = 0.01 / day, excess = coefficient * 1.0;
  const double recharge = 0.010 / day + excess;
  double error[2] = {};
  for (int level = 0; level < 2; ++level) {
    const double dx = level == 0 ? 0.5 : 0.25;
    Zone zone = steady(12, dx, 2 / day, recharge, 0.2, 0.2, coefficient);
    error[level] = std::abs(thickness_at(zone, 6) / 0.392438 - 1);
    if (level > 0) continue;
    const perched::StepResult& result = zone.advance(10 * day, recharge);
    double leaked = 0; // between the drains, of one half: the end cells count half
    for (std::size_t c = 0; c < result.leakage.size(); ++c)
      leaked += (c == 0 || c + 1 == result.leakage.size() ? 0.5 : 1.0) *
                (result.leakage[c] * dx / 10 - excess * day * dx) / 2;
    CHECK_THAT(leaked, WithinRel(0.0202386, 0.003));
    figures::record("perched", "steady, over a leaky layer", "leaked, m2/day", 0.0202386, leaked,
                    figures::share(0.003));
    const double own = 0.5 * dx * (0.010 - 0.01 * 0.2); // of the half cell outside
    CHECK_THAT(result.exchanged[0] / (10 * dx) - own, WithinRel(0.0397614, 0.003));
    figures::record("perched", "steady, over a leaky layer", "flow to a drain, m2/day", 0.0397614,
                    result.exchanged[0] / (10 * dx) - own, figures::share(0.003));
  }
  CHECK(error[0] < 0.003);
  figures::record("perched", "steady, over a leaky layer", "error midway, as a share", error[0],
                  figures::at_most(0.003));
  CHECK(error[1] < error[0] / 3); // second order would be 4
  figures::record("perched", "steady, over a leaky layer", "order in dx", std::log2(error[0] / error[1]),
                  figures::at_least(std::log2(3)));
}

TEST_CASE(
    "Steady table through two soils side by side: the flow passes, the gradient breaks where they meet") {
  // H dH/dx = -q/K with q = q0 + R x in both, and H the same on either side of where they meet, at L/2.
  const double loose = 3 / day, tight = 0.2 / day, recharge = 0.004 / day, length = 8.4, half = length / 2;
  const double left = 0.55, right = 0.20, depth = 2;
  const double by_rain = recharge * (half * half / loose + (length * length - half * half) / tight);
  const double entering = // q0 [m2/s], here the other way: the rain runs out over both ends
      (left * left - right * right - by_rain) / (2 * half * (1 / loose + 1 / tight));
  const auto used = [&](double from, double to, double conductivity) { // of H^2
    return (2 * entering * (to - from) + recharge * (to * to - from * from)) / conductivity;
  };
  const auto exact = [&](double x) {
    const double lost = used(0, std::min(x, half), loose) + (x > half ? used(half, x, tight) : 0.0);
    return std::sqrt(left * left - lost);
  };
  double previous = 0;
  for (const int cells : {12, 24, 48}) {
    const double dx = length / cells;
    CAPTURE(dx);
    perched::Layer layer = flat_layer(cells, 1, dx, depth, loose);
    for (int i = cells / 2; i < cells; ++i) layer.conductivity[i] = tight;
    Zone zone(layer, 0.1);
    // Levels held at the outer faces: the soil of half a cell lies between.
    zone.exchanges = {{0, 2 * loose * depth, left, 1e9}, {cells - 1, 2 * tight * depth, right, 1e9}};
    for (int step = 0; step < 60; ++step) zone.advance(10 * day, recharge);
    double worst = 0;
    for (int i = 0; i < cells; ++i)
      worst = std::max(worst, std::abs(zone.saturated[i] - exact((i + 0.5) * dx)));
    const double flow = zone.advance(10 * day, recharge).exchanged[0] / (10 * day * dx);
    CHECK_THAT(flow, WithinRel(-entering, 1e-6));
    // Of H^2 the share of the rain of a cell that its parabola bends by, where H is least.
    CHECK(worst < recharge / (4 * tight) * dx * dx / (2 * right));
    if (previous > 0) CHECK(std::log2(previous / worst) > 1.6);
    previous = worst;
  }
}
