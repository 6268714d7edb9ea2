// Leakage through the tight layer: free draining below with a thickness b, or at unit gradient.
#include <array>
#include <cmath>

#include "catch.hpp"
#include "figures.hpp"
#include "perched/zone.hpp"

using namespace zone;

namespace {

constexpr double tight = 0.002 / day, thick = 0.20;

Zone column(double b, double start) {
  perched::Layer layer = flat_layer(1, 1, 1.0, 0.6, 1e-5);
  layer.leakage_conductivity = {tight};
  layer.leakage_thickness = {b};
  Zone zone(layer, 0.10);
  zone.saturated = {start};
  return zone;
}

} // namespace

TEST_CASE("Free-draining leakage follows its exponential and empties in time") {
  Zone zone = column(thick, 0.5);
  double time = 0, empty_at = 0;
  for (const auto& [end, h] : std::initializer_list<std::pair<double, double>>{
           {1, 0.433386}, {2, 0.373112}, {5, 0.224571}, {10, 0.057516}, {20, 0}, {30, 0}}) {
    for (; time < end - 0.05; time += 0.1) {
      zone.advance(0.1 * day);
      if (empty_at == 0 && zone.saturated[0] == 0) empty_at = time + 0.1;
    }
    CHECK_THAT(zone.saturated[0], WithinAbs(h, 0.005 * 0.5));
    figures::record("perched", "leakage through a layer 0.2 m thick", "saturated thickness, m", h,
                    zone.saturated[0], figures::amount(0.005 * 0.5));
  }
  CHECK_THAT(empty_at, WithinAbs(12.527630, 0.1));
  figures::record("perched", "leakage through a layer 0.2 m thick", "empty after, days", 12.527630, empty_at,
                  figures::amount(0.1));
  CHECK_THAT(zone.leaked, WithinRel(0.05, 1e-12)); // all it held, no more
}

TEST_CASE("Unit-gradient leakage is a straight line to empty") {
  Zone zone = column(std::numeric_limits<double>::infinity(), 0.5);
  double time = 0;
  for (const auto& [end, h] : std::initializer_list<std::pair<double, double>>{
           {1, 0.48}, {2, 0.46}, {5, 0.40}, {10, 0.30}, {20, 0.10}, {30, 0}}) {
    for (; time < end - 0.05; time += 0.1) zone.advance(0.1 * day);
    CHECK_THAT(zone.saturated[0], WithinAbs(h, 1e-9));
    figures::record("perched", "leakage at unit gradient", "saturated thickness, m", h, zone.saturated[0],
                    figures::amount(1e-9));
  }
  CHECK_THAT(zone.leaked, WithinRel(0.05, 1e-12));
}

TEST_CASE("Leakage under steady recharge levels off where they balance") {
  Zone zone = column(thick, 0);
  double time = 0;
  for (const auto& [end, h] : std::initializer_list<std::pair<double, double>>{
           {1, 0.028549}, {5, 0.118041}, {10, 0.189636}, {20, 0.259399}}) {
    for (; time < end - 0.05; time += 0.1) zone.advance(0.1 * day, 0.005 / day);
    CHECK_THAT(zone.saturated[0], WithinRel(h, 0.005));
    figures::record("perched", "leakage under steady recharge", "saturated thickness, m", h,
                    zone.saturated[0], figures::share(0.005));
  }
  for (int step = 0; step < 100; ++step) zone.advance(10 * day, 0.005 / day);
  CHECK_THAT(zone.saturated[0], WithinRel(0.30, 1e-6));
}

TEST_CASE("The error of leakage in time falls with the first power of the step") {
  std::array<double, 3> error{};
  for (int level = 0; level < 3; ++level) {
    const double dt = 0.5 / (1 << level);
    Zone zone = column(thick, 0.5);
    for (int step = 0; step < std::lround(5 / dt); ++step) zone.advance(dt * day);
    error[level] = std::abs(zone.saturated[0] - (0.7 * std::exp(-0.5) - 0.2));
  }
  CHECK_THAT(std::log2(error[0] / error[1]), WithinAbs(1.0, 0.1));
  CHECK_THAT(std::log2(error[1] / error[2]), WithinAbs(1.0, 0.1));
  figures::record("perched", "leakage through a layer 0.2 m thick", "order in the step",
                  std::log2(error[1] / error[2]), figures::at_least(0.9));
}
