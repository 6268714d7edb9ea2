// A stone-filled trench without a pipe as a porous channel: h2 = hL2 + w (L2 - x2) / (K b), Darcy's law.
#include <cmath>
#include <vector>

#include <lowspot/drain/drain.hpp>

#include "catch.hpp"
#include "figures.hpp"

using namespace lowspot;
using namespace lowspot::drain;

namespace {

Drain stone_trench(int cells) {
  Layout layout;
  Run run;
  run.name = "stone";
  run.path = {{0, 0}, {15, 0}};
  run.inverts = {0, 0};
  run.trench_width = 0.4;
  run.stone = {0.38, 0.05, 0};
  run.to = "end";
  layout.runs = {run};
  layout.outlets = {{"end", OutletKind::submerged, {15, 0}}};
  layout.outlets[0].level = 0.02;
  layout.station_spacing = 15.0 / cells;
  Drain drain(layout, [](Point) { return 1.0; });
  const std::vector<double> in(cells, 2e-5 * 15 / cells), none(cells, 0.0);
  for (int k = 0; k < 400; ++k) drain.advance(600, {in, none, none}, none);
  return drain;
}

double exact(double x) {
  return std::sqrt(0.02 * 0.02 + 2e-5 * (15 * 15 - x * x) / (0.05 * 0.4));
}

} // namespace

TEST_CASE("steady water in a trench without a pipe") {
  CHECK_THAT(exact(5), WithinRel(0.447661, 1e-5));
  const Drain drain = stone_trench(30);
  CHECK_THAT(drain.outlet_flow(0), WithinRel(0.3e-3, 1e-6));
  for (std::size_t i = 0; i + 2 < drain.stations().size(); ++i) {
    CHECK_THAT(drain.stone_level()[i], WithinRel(exact(drain.stations()[i].distance), 0.01));
    figures::record("drain", "trench without a pipe", "water levels, m", exact(drain.stations()[i].distance),
                    drain.stone_level()[i], figures::share(0.01));
  }
  CHECK_THAT(drain.stored(), WithinRel(850.890e-3, 0.01));
  figures::record("drain", "trench without a pipe", "water in the stone, L", (850.890e-3) * 1e3,
                  (drain.stored()) * 1e3, figures::share(0.01));
}

TEST_CASE("the stone's levels converge with the stations") {
  const auto error = [](int cells) {
    const Drain drain = stone_trench(cells);
    double sum = 0;
    for (std::size_t i = 0; i < drain.stations().size(); ++i)
      sum += std::abs(drain.stone_level()[i] - exact(drain.stations()[i].distance)) / cells;
    return sum;
  };
  const double order = std::log2(error(15) / error(30));
  CHECK(order > 1);
  figures::record("drain", "trench without a pipe", "order in the length of a station", order,
                  figures::at_least(1));
}
