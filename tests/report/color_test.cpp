#include "catch.hpp"

#include <cmath>

#include <lowspot/report/color.hpp>

using namespace lowspot::report;

TEST_CASE("greys of OKLab are greys of the screen") {
  CHECK(hex(rgb({1, 0, 0})) == "#ffffff");
  CHECK(hex(rgb({0, 0, 0})) == "#000000");
  // Lightness of a linear grey is the cube root of its luminance (Ottosson 2020).
  const double linear = std::pow((0.5 + 0.055) / 1.055, 2.4);
  CHECK(lightness({0.5, 0.5, 0.5}) == Approx(std::cbrt(linear)).epsilon(1e-6));
}

TEST_CASE("a colour that cannot be shown keeps its lightness") {
  for (const double l : {0.3, 0.5, 0.7, 0.9}) CHECK(lightness(rgb({l, 0.4, 30})) == Approx(l).margin(2e-3));
}

TEST_CASE("ramps darken evenly, so that a grey print keeps their order") {
  for (const Ramp& ramp : {hours_ramp(), depth_ramp()}) {
    double before = lightness(sample(ramp, 0));
    double smallest = 1;
    for (int k = 1; k <= 20; ++k) {
      const double now = lightness(sample(ramp, k / 20.0));
      smallest = std::min(smallest, before - now);
      before = now;
    }
    CHECK(smallest > 0.015); // an even step would be 0.033
  }
}

TEST_CASE("neighbouring classes differ for eyes without red or green cones") {
  // Lightness alone sets seven classes apart: it is seen alike with and without those cones.
  for (const Ramp& ramp : {hours_ramp(), depth_ramp()})
    for (int k = 0; k < 6; ++k)
      CHECK(lightness(sample(ramp, k / 6.0)) - lightness(sample(ramp, (k + 1) / 6.0)) > 0.07);
}
