// Transient drainage to drains at cell centres: Boussinesq's separable solution (1904) and the Glover-Dumm
// limit.
#include <array>
#include <cmath>

#include <boost/math/special_functions/beta.hpp>

#include "catch.hpp"
#include "figures.hpp"
#include "perched/zone.hpp"

using namespace zone;

namespace {

constexpr double firm = 1e4;       // m2/s
constexpr double half_spacing = 6; // m
constexpr double height = 0.60;    // m, midway at the start

// The shape f(x / L): x / L = I_{f^3}(2/3, 1/2).
double shape(double xi) {
  if (xi <= 0) return 0;
  if (xi >= 1) return 1;
  return std::cbrt(boost::math::ibeta_inv(2.0 / 3, 0.5, xi));
}

Zone separable_start(double dx) {
  const int cells = static_cast<int>(std::lround(2 * half_spacing / dx)) + 1;
  Zone zone(flat_layer(cells, 1, dx, 1.0, 3 / day), 0.08);
  for (int i = 0; i < cells; ++i) {
    const double x = i * dx;
    zone.saturated[i] = height * shape(std::min(x, 2 * half_spacing - x) / half_spacing);
  }
  zone.exchanges = {{0, firm, 0.0, 0.0}, {cells - 1, firm, 0.0, 0.0}};
  return zone;
}

double midway(const Zone& zone) {
  return zone.saturated[zone.saturated.size() / 2];
}

// h midway after `end` days in equal steps.
double midway_after(double dx, double dt_days, double end) {
  Zone zone = separable_start(dx);
  for (int step = 0; step < std::lround(end / dt_days); ++step) zone.advance(dt_days * day);
  return midway(zone);
}

} // namespace

TEST_CASE("Drainage to the base keeps Boussinesq's shape") {
  const double dx = 0.25, dt = 0.0025;
  Zone zone = separable_start(dx);
  const double start = zone.water();
  const std::array<std::array<double, 5>, 6> expected = {{{0.25, 0.510943, 0.325958, 0.112566, 0.033047},
                                                          {0.5, 0.444906, 0.283829, 0.085349, 0.057551},
                                                          {1.0, 0.353523, 0.225531, 0.053889, 0.091460},
                                                          {2, 0.250584, 0.159861, 0.027075, 0.129658},
                                                          {5, 0.133749, 0.085326, 0.007713, 0.173012},
                                                          {10, 0.075263, 0.048014, 0.002442, 0.194714}}};
  double time = 0, rate = 0;
  for (const auto& [end, mid, quarter, flow, drained] : expected) {
    while (time < end - dt / 2) {
      rate = zone.advance(dt * day).exchanged[0] / (dt * dx); // m2 a day
      time += dt;
    }
    CAPTURE(end);
    CHECK_THAT(midway(zone), WithinRel(mid, 0.005));
    figures::record("perched", "drainage to the base (Boussinesq)", "thickness midway, m", mid, midway(zone),
                    figures::share(0.005));
    CHECK_THAT(zone.saturated[6], WithinRel(quarter, 0.005)); // 1.5 m from the drain
    // What left over the last step, against the rate at the middle of it.
    const double middle = flow * std::pow((1 + end / 1.434305) / (1 + (end - dt / 2) / 1.434305), 2);
    CHECK_THAT(rate, WithinRel(middle, 0.005));
    figures::record("perched", "drainage to the base (Boussinesq)", "flow to one drain, m2/day", middle, rate,
                    figures::share(0.005));
    CHECK_THAT((start - zone.water()) / (2 * dx), WithinRel(drained, 0.005));
    figures::record("perched", "drainage to the base (Boussinesq)", "drained, m2", drained,
                    (start - zone.water()) / (2 * dx), figures::share(0.005));
  }
}

TEST_CASE("Drainage is first order in time") {
  const double coarse = midway_after(0.25, 0.10, 1), middle = midway_after(0.25, 0.05, 1),
               fine = midway_after(0.25, 0.025, 1);
  const double order = std::log2((coarse - middle) / (middle - fine));
  CHECK_THAT(order, WithinAbs(1.0, 0.1));
  figures::record("perched", "drainage to the base (Boussinesq)", "order in the step", order,
                  figures::at_least(0.9));
}

TEST_CASE("A thick saturated zone drains as Glover and Dumm have it") {
  const double dx = 0.25, spacing = 10, fall = 0.20;
  const int cells = static_cast<int>(std::lround(spacing / dx)) + 1;
  Zone zone(flat_layer(cells, 1, dx, 4.0, 2.5 / day), 0.06);
  zone.exchanges = {{0, firm, 3.0, 1e9}, {cells - 1, firm, 3.0, 1e9}};
  double time = 0;
  const double dt = 0.0002;
  SECTION("flat start") {
    zone.saturated.assign(cells, 3.0 + fall);
    for (const auto& [end, nonlinear] : std::initializer_list<std::pair<double, double>>{
             {0.02, 0.942167}, {0.05, 0.672006}, {0.1, 0.360852}}) {
      for (; time < end - dt / 2; time += dt) zone.advance(dt * day);
      CHECK_THAT((midway(zone) - 3.0) / fall, WithinAbs(nonlinear, 0.01));
      figures::record("perched", "thick zone (Glover and Dumm)", "height midway over that at the start",
                      nonlinear, (midway(zone) - 3.0) / fall, figures::amount(0.01));
    }
  }
  SECTION("fourth-degree parabola") {
    for (int i = 0; i < cells; ++i) { // 8 (x/L - 3 (x/L)^2 + 4 (x/L)^3 - 2 (x/L)^4), Dumm 1960
      const double x = i * dx / spacing;
      zone.saturated[i] = 3.0 + fall * 8 * (x - 3 * x * x + 4 * x * x * x - 2 * x * x * x * x);
    }
    for (const auto& [end, nonlinear] : std::initializer_list<std::pair<double, double>>{
             {0.02, 0.885772}, {0.05, 0.620543}, {0.1, 0.333105}}) {
      for (; time < end - dt / 2; time += dt) zone.advance(dt * day);
      CHECK_THAT((midway(zone) - 3.0) / fall, WithinAbs(nonlinear, 0.01));
      figures::record("perched", "thick zone (Glover and Dumm)", "height midway over that at the start",
                      nonlinear, (midway(zone) - 3.0) / fall, figures::amount(0.01));
    }
  }
}
