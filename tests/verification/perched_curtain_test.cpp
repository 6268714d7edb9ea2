// A curtain drain across a hillside: a trench down to the tight layer catches all that comes, and the table
// uphill of it draws down to it along an exact curve.
//
// With a steady flow q = K H0 S from a hillside that is saturated to H0, Boussinesq's equation on a slope S
// gives H (S - dH/dx) = H0 S, and with H = 0 at the trench, at a distance s uphill of it, s = -(H + H0 ln(1 -
// H / H0)) / S (Boussinesq 1904, integrated).
#include <array>
#include <cmath>

#include "catch.hpp"
#include "figures.hpp"
#include "perched/zone.hpp"

using namespace zone;

namespace {

constexpr double slope = 0.08, depth = 0.60, conductivity = 3 / day, upslope = 0.25, trench = 20;

struct Caught {
  Zone zone;
  double entered = 0, caught = 0, passed = 0; // m2 a day
};

Caught hillside_with_a_trench(double dx) {
  perched::Layer layer = flat_layer(static_cast<int>(std::lround(30 / dx)), 1, dx, depth, conductivity);
  tilt(layer, slope);
  layer.inflow_faces = {{0, 0, upslope}};
  layer.outflow_faces = {{layer.grid.nx - 1, 1}};
  Caught result{Zone(layer, 0.1)};
  const auto at = static_cast<int>(std::lround(trench / dx - 0.5));
  // The stone is drained below the layer, and the walls hardly resist: what they hold back, sqrt(2 D q /
  // conductance) deep, is what passes on down the slope.
  result.zone.exchanges = {{at, 100.0, layer.tight_elevation[at] - 0.3, 0.0}};
  for (int step = 0; step < 300; ++step) result.zone.advance(day);
  const perched::StepResult& last = result.zone.advance(day);
  result.entered = last.entered[0] / dx;
  result.caught = last.exchanged[0] / dx;
  result.passed = last.left_through[0] / dx;
  return result;
}

// Saturated thickness at a distance uphill of the trench's cell.
double uphill(const Caught& hill, double distance) {
  const Grid& grid = hill.zone.layer.grid;
  const double wall = grid.x(static_cast<int>(std::lround(trench / grid.cell - 0.5)));
  const double at = (wall - distance) / grid.cell - 0.5;
  const auto i = static_cast<std::size_t>(at);
  return hill.zone.saturated[i] +
         (at - static_cast<double>(i)) * (hill.zone.saturated[i + 1] - hill.zone.saturated[i]);
}

double distance_of(double saturated) {
  return -(saturated + upslope * std::log(1 - saturated / upslope)) / slope;
}

} // namespace

TEST_CASE(
    "a curtain drain down to the tight layer catches the hillside's K H S, and leaves the ground below dry") {
  const Caught hill = hillside_with_a_trench(0.25);
  CHECK_THAT(hill.entered, WithinRel(3 * upslope * slope, 1e-3));
  figures::record("perched", "table above a curtain drain", "flow that comes, m2/day", 3 * upslope * slope,
                  hill.entered, figures::share(1e-3));
  CHECK_THAT(hill.caught, WithinRel(hill.entered, 1e-3));
  figures::record("perched", "table above a curtain drain", "flow that it catches, m2/day", hill.entered,
                  hill.caught, figures::share(1e-3));
  CHECK(hill.passed < 1e-3 * hill.entered);
  for (std::size_t c = 0; c < hill.zone.saturated.size(); ++c)
    if (hill.zone.layer.grid.x(static_cast<int>(c)) > trench + 0.5)
      CHECK(hill.zone.saturated[c] < 0.01 * upslope);
}

TEST_CASE("the table draws down to a curtain drain along Boussinesq's curve") {
  const Caught hill = hillside_with_a_trench(0.125);
  for (const double saturated : {0.15, 0.20, 0.22, 0.24}) {
    CHECK_THAT(uphill(hill, distance_of(saturated)), WithinRel(saturated, 0.01));
    figures::record("perched", "table above a curtain drain", "saturated thickness, m", saturated,
                    uphill(hill, distance_of(saturated)), figures::share(0.01));
  }
}

TEST_CASE("the curve above a curtain drain converges with the cells") {
  std::array<double, 3> error{};
  for (int level = 0; level < 3; ++level)
    error[level] = std::abs(uphill(hillside_with_a_trench(0.5 / (1 << level)), distance_of(0.20)) - 0.20);
  CHECK(error[1] < error[0]);
  CHECK(error[2] < 0.6 * error[1]);
  figures::record("perched", "table above a curtain drain", "order in dx, 0.25 to 0.125 m",
                  std::log2(error[1] / error[2]), figures::at_least(-std::log2(0.6)));
}
