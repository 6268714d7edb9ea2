#include "catch.hpp"
#include "soils.hpp"

#include <cmath>

#include <lowspot/soil/moisture.hpp>

using namespace lowspot::soil;
using namespace soils;

TEST_CASE("Conductivity runs from none at the residual content to the saturated one") {
  const Parameters soil = silt_loam();
  CHECK(conductivity_at(soil, soil.residual) == 0);
  CHECK(conductivity_at(soil, 0.5 * soil.residual) == 0);
  CHECK(conductivity_at(soil, soil.porosity) == soil.conductivity);
  const double middle = soil.residual + 0.5 * (soil.porosity - soil.residual);
  CHECK_THAT(conductivity_at(soil, middle) / soil.conductivity,
             WithinRel(std::pow(0.5, 3 + 2 / 0.211), 1e-12));
}

TEST_CASE("Drainage agrees with a fine integration of K(content) and stops at field capacity") {
  const Parameters soil = sandy_loam();
  const double thickness = 0.2, dt = 1800;
  double content = soil.porosity;
  const int steps = 20000;
  for (int i = 0; i < steps; ++i) { // classical Runge-Kutta
    const double h = dt / steps;
    auto slope = [&](double value) { return -conductivity_at(soil, value) / thickness; };
    const double a = slope(content), b = slope(content + 0.5 * h * a), c = slope(content + 0.5 * h * b),
                 d = slope(content + h * c);
    content += h * (a + 2 * b + 2 * c + d) / 6;
  }
  CHECK_THAT(drained_content(soil, soil.porosity, thickness, dt), WithinRel(content, 1e-10));
  CHECK(drained_content(soil, soil.porosity, thickness, 1e9) == soil.field_capacity);
  CHECK(drained_content(soil, 0.15, thickness, dt) == 0.15);
}

TEST_CASE("Two half steps of drainage are one step") {
  const Parameters soil = silt_loam();
  const double half = drained_content(soil, 0.49, 0.15, 5 * hour);
  CHECK_THAT(drained_content(soil, half, 0.15, 5 * hour),
             WithinRel(drained_content(soil, 0.49, 0.15, 10 * hour), 1e-13));
}

// Short steps go by the series of the same law.
TEST_CASE("Many short steps of drainage are one long step") {
  const Parameters soil = silt_loam();
  double content = 0.49;
  const int steps = 36000;
  for (int k = 0; k < steps; ++k) content = drained_content(soil, content, 0.15, 10 * hour / steps);
  CHECK_THAT(content, WithinRel(drained_content(soil, 0.49, 0.15, 10 * hour), 1e-11));
}

TEST_CASE("Bubbling height matches the tabulated 20.76 cm of silt loam and 11.15 cm of loam") {
  CHECK_THAT(bubbling_height(silt_loam()), WithinRel(0.2076, 0.01));
  Parameters loam = silt_loam();
  loam.wetting_front_suction = 0.0889;
  loam.pore_size_index = 0.22;
  CHECK_THAT(bubbling_height(loam), WithinRel(0.1115, 0.01));
}

TEST_CASE("What rises from a table falls with its distance, from the conductivity down") {
  const Parameters soil = silt_loam();
  CHECK(capillary_rise(soil, 0.1) == soil.conductivity);
  double previous = soil.conductivity;
  for (double distance = 0.1; distance < 3; distance += 0.1) {
    const double rise = capillary_rise(soil, distance);
    CHECK(rise <= previous);
    previous = rise;
  }
  CHECK_THAT(capillary_rise(soil, 2.0) / capillary_rise(soil, 1.0),
             WithinRel(std::pow(0.5, 2 + 3 * 0.211), 1e-12));
}

// Worked by hand: bubbling height 2 * 0.1668 * 1.633 / 2.633 = 0.206901 m, factor 1 + 1.5 / 1.633 = 1.918555,
// power 2.633.
TEST_CASE("What rises from a table 0.5 m and 1 m below") {
  const Parameters soil = silt_loam();
  CHECK_THAT(capillary_rise(soil, 1.0) / soil.conductivity, WithinRel(0.0302952, 1e-5));
  CHECK_THAT(capillary_rise(soil, 0.5) / soil.conductivity, WithinRel(0.187926, 1e-5));
}
