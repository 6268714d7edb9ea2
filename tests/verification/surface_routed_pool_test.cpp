// A pool behind a rise of the ground through which a stream flows: the steady profile of zero inertia, by
// which the surface falls by n^2 q^2 / h^(10/3), marched up from the normal depth below (Chow 1959).
#include <cmath>

#include "catch.hpp"
#include "figures.hpp"
#include "surface/yards.hpp"

using namespace yards;
using lowspot::surface::Method;
using lowspot::surface::Options;

namespace {

constexpr double n = 0.03, length = 24;

// Falls by 2 %, rises by half of one from 12 to 18 m, falls by 2 % again.
double bed(double x) {
  return x < 12 ? 1 - 0.02 * x : x < 18 ? 0.76 + 0.005 * (x - 12) : 0.79 - 0.02 * (x - 18);
}

// Level of the water at x [m] where q [m2/s] passes.
double level_at(double x, double q) {
  const double step = 1e-4;
  double h = std::pow(n * q / std::sqrt(0.02), 0.6), level = bed(length) + h;
  for (double at = length; at > x; at -= step) {
    const double middle = level + 0.5 * step * n * n * q * q / std::pow(level - bed(at), 10.0 / 3);
    level += step * n * n * q * q / std::pow(middle - bed(at - 0.5 * step), 10.0 / 3);
  }
  return level;
}

} // namespace

TEST_CASE("Routed: the head of a pool that a stream flows through", "[verification][routed]") {
  const double dx = 0.25;
  for (const double q : {5e-4, 2e-3})
    for (const double step : {0.0, 2.0, 20.0, 60.0}) { // none: the dynamic method
      Terrain terrain =
          rectangle(static_cast<int>(length / dx), 2, dx, n, [](double x, double) { return bed(x); });
      open_side(terrain, 1);
      Options options;
      options.method = step > 0 ? Method::routed : Method::dynamic;
      if (step > 0) options.routing_step = step;
      Run run(std::move(terrain), options);
      const auto& grid = run.flow.terrain().grid;
      for (const int j : {0, 1}) run.supply[grid.index(0, j)] = q / dx;
      while (run.time < 7200) run.advance(60);
      const int cell = static_cast<int>(grid.index(static_cast<int>(14 / dx), 1));
      const double level = run.flow.terrain().elevation[cell] + run.flow.depth()[cell];
      const double exact = level_at(14 + dx / 2, q) - bed(18);
      CAPTURE(q, step);
      CHECK_THAT(level - bed(18), WithinRel(exact, 0.05));
      figures::record("surface", "pool that a stream flows through, steps of 2 to 60 s",
                      "level over the rise, mm", exact * 1e3, (level - bed(18)) * 1e3, figures::share(0.05));
      CHECK_THAT(run.advance(60) / 60, WithinRel(q * 2 * dx, 1e-3));
    }
}
