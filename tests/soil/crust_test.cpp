#include "catch.hpp"
#include "soils.hpp"

#include <cmath>

#include <lowspot/soil/crust.hpp>
#include <lowspot/soil/green_ampt.hpp>
#include <lowspot/soil/moisture.hpp>

using namespace soils;
using namespace lowspot::soil;

namespace {
Parameters crusted(Parameters soil, double conductivity, double thickness) {
  soil.crust_conductivity = conductivity;
  soil.crust_thickness = thickness;
  return soil;
}

// Infiltrated under constant head by stepping f = (h + L + suction + Z) / (L/Kc + Z/K), Z = F / deficit.
double in_series(const Parameters& soil, double deficit, double head, double time) {
  const auto rate = [&](double infiltrated) {
    const double front = infiltrated / deficit;
    return (head + soil.crust_thickness + soil.wetting_front_suction + front) /
           (soil.crust_thickness / soil.crust_conductivity + front / soil.conductivity);
  };
  const int steps = 20000;
  const double h = time / steps;
  double infiltrated = 0;
  for (int k = 0; k < steps; ++k) {
    const double a = rate(infiltrated), b = rate(infiltrated + 0.5 * h * a),
                 c = rate(infiltrated + 0.5 * h * b), d = rate(infiltrated + h * c);
    infiltrated += h * (a + 2 * b + 2 * c + d) / 6;
  }
  return infiltrated;
}
} // namespace

TEST_CASE("A mild crust stands in series with the wetted soil: exact over any step") {
  const Parameters soil = crusted(silt_loam(2.0), 2 * mm_h, 0.02); // counts as 6.5 cm of soil
  CHECK_THAT(crust_as_soil(soil), WithinRel(0.065, 1e-12));
  CHECK(!crust_limits(soil, 0));
  const double deficit = soil.porosity - 0.2;
  for (double head : {0.0, 0.05})
    for (double time : {60.0, 1800.0, 20000.0}) {
      Column once(soil, 0.2);
      const double expected = in_series(soil, deficit, head, time);
      once.columns.ponded_head = head > 0;
      CHECK_THAT(once.capacity(0, time, head > 0 ? head : 10) * time, WithinRel(expected, 1e-7));
      Column many(soil, 0.2);
      many.columns.ponded_head = head > 0;
      double sum = 0;
      for (int k = 0; k < 40; ++k) {
        double standing = head > 0 ? head : 10;
        sum += many.rain(0, time / 40, standing);
      }
      CHECK_THAT(sum, WithinRel(expected, 1e-7));
    }
}

TEST_CASE("Rain on a mild crust ponds when the rate in series has fallen to it") {
  const Parameters soil = crusted(silt_loam(2.0), 2 * mm_h, 0.02);
  const double supply = 12 * mm_h, deficit = soil.porosity - 0.2;
  // (L + suction + Z) = supply (R + Z/K) at ponding.
  const double resistance = soil.crust_thickness / soil.crust_conductivity;
  const double front = (soil.crust_thickness + soil.wetting_front_suction - supply * resistance) /
                       (supply / soil.conductivity - 1);
  REQUIRE(front > 0);
  const double ponds = front * deficit / supply;
  Column column(soil, 0.2);
  column.columns.ponded_head = false;
  CHECK(column.capacity(supply, 0.999 * ponds) >= supply * (1 - 1e-12));
  CHECK(column.capacity(supply, 1.5 * ponds) < supply);
  // Fast rain ponds at once: what goes in is limited by the crust from the first moment.
  const double first = (soil.crust_thickness + soil.wetting_front_suction) / resistance;
  CHECK_THAT(column.capacity(10 * first, 1), WithinRel(first, 1e-3));
}

TEST_CASE("A tight crust keeps the soil unsaturated: the steady rate satisfies its equation") {
  for (const Parameters& plain : {silt_loam(1.0), sandy_loam(1.0), clay(1.0), sand(1.0)}) {
    const Parameters soil = crusted(plain, 0.002 * plain.conductivity, 0.005);
    for (double ponded : {0.0, 0.03}) {
      if (!crust_limits(soil, ponded)) continue;
      const double rate = rate_through_crust(soil, ponded);
      CHECK(rate > 0);
      CHECK(rate < soil.conductivity);
      const double suction =
          soil.wetting_front_suction * std::pow(soil.conductivity / rate, 1 / (2 + 3 * soil.pore_size_index));
      CHECK_THAT(rate * soil.crust_thickness / soil.crust_conductivity,
                 WithinRel(ponded + soil.crust_thickness + suction, 1e-10));
      // More water over it presses more through.
      CHECK(rate_through_crust(soil, ponded + 0.05) > rate);
      const Column column(soil, soil.field_capacity);
      CHECK_THAT(column.capacity(1e-3, 60, ponded), WithinRel(rate, 1e-12));
    }
  }
}

TEST_CASE("The two regimes meet, no crust is the limit of a thin one, and one that is closed takes nothing") {
  Parameters soil = silt_loam(2.0);
  const double thickness = 0.01;
  // K R = h + L + suction exactly: both give K.
  const double at_limit = soil.conductivity * thickness / (thickness + soil.wetting_front_suction);
  const Column just_limits(crusted(soil, at_limit * (1 - 1e-9), thickness), 0.2);
  const Column just_not(crusted(soil, at_limit * (1 + 1e-9), thickness), 0.2);
  CHECK_THAT(just_limits.capacity(1, 600), WithinRel(soil.conductivity, 1e-6));
  CHECK_THAT(just_not.capacity(1, 600), WithinRel(soil.conductivity, 1e-6));
  const Column plain(soil, 0.2), thin(crusted(soil, soil.conductivity, 1e-9), 0.2);
  CHECK_THAT(thin.capacity(1, 600), WithinRel(plain.capacity(1, 600), 1e-6));
  const Column closed(crusted(soil, 0, thickness), 0.2);
  CHECK(closed.capacity(1, 600, 0.1) == 0);
  // The capacity falls evenly as the crust tightens.
  double previous = plain.capacity(1, 600);
  for (double factor : {1.0, 0.3, 0.1, 0.03, 0.01, 0.001}) {
    const Column column(crusted(soil, factor * soil.conductivity, thickness), 0.2);
    CHECK(column.capacity(1, 600) < previous);
    previous = column.capacity(1, 600);
  }
}

TEST_CASE("Under a crust no more goes in than there is room for") {
  Column column(crusted(silt_loam(0.18), 1 * mm_h, 0.01), 0.4);
  const double room = (0.501 - 0.4) * 0.18;
  CHECK_THAT(column.capacity(0, 1e7, 0.1) * 1e7, WithinRel(room, 1e-12));
}
