// A level table beside a trench that is emptied at once down to a flat tight layer. Everything depends on
// x / sqrt(K H0 t / S) alone (Boussinesq 1904; Polubarinova-Kochina 1962): with u = h / H0, (u u')' + xi u' /
// 2 = 0, u(0) = 0, u(infinity) = 1, and u u' = 0.332057 at the trench, the number of Blasius's boundary layer
// (1908).
#include <cmath>

#include "catch.hpp"
#include "figures.hpp"
#include "perched/zone.hpp"

using namespace zone;

namespace {

constexpr double conductivity = 1e-4, porosity = 0.1, start = 0.5, shore = 0.332057;

struct Drained {
  double by_quarter_day = 0, by_day = 0; // m2
};

Drained drained(double dx, double dt) {
  perched::Layer layer = flat_layer(static_cast<int>(std::lround(24 / dx)), 1, dx, 1.0, conductivity);
  Zone zone(layer, porosity);
  zone.saturated.assign(zone.saturated.size(), start);
  // Half a cell of soil between the middle of the first cell and the trench: K H2 / dx for each metre of it.
  zone.exchanges = {{0, 2 * conductivity * layer.thickness[0], -1.0, 0}};
  Drained result;
  double sum = 0;
  for (double time = dt; time < 1.0001 * day; time += dt) {
    sum += zone.advance(dt).exchanged[0] / dx;
    if (std::abs(time - 0.25 * day) < 0.5 * dt) result.by_quarter_day = sum;
  }
  result.by_day = sum;
  return result;
}

// What has gone by a time: the integral of shore K H0^2 / sqrt(K H0 t / S).
double exact(double time) {
  return 2 * shore * start * std::sqrt(conductivity * start * porosity * time);
}

} // namespace

TEST_CASE("A trench emptied at once drains a level table by the root of time") {
  const Drained fine = drained(0.1, 180), coarse = drained(0.2, 720);
  CHECK_THAT(fine.by_quarter_day, WithinRel(exact(0.25 * day), 0.003));
  CHECK_THAT(fine.by_day, WithinRel(exact(day), 0.003));
  const char* what = "trench emptied at once";
  figures::record("perched", what, "drained, m2", exact(0.25 * day), fine.by_quarter_day,
                  figures::share(0.003));
  figures::record("perched", what, "drained, m2", exact(day), fine.by_day, figures::share(0.003));
  const double order =
      std::log2(std::abs(coarse.by_day / exact(day) - 1) / std::abs(fine.by_day / exact(day) - 1));
  CHECK(order > 1.5);
  figures::record("perched", what, "order in dx, steps with its square", order, figures::at_least(1.5));
}
