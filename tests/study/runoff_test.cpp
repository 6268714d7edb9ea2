#include "catch.hpp"
#include "figures.hpp"
#include "simple_yard.hpp"

#include <cmath>

#include <lowspot/study/runoff.hpp>

using namespace lowspot;
using namespace lowspot::study;

namespace {
constexpr double mm_h = 1e-3 / 3600;
site::Soil deep_soil() {
  site::Soil soil = simple_yard(1, 1, 1, [](double, double) { return 0; }).site.soils[0];
  soil.depth = {5, 5, 5};
  soil.conductivity = {10 * mm_h, 10 * mm_h, 10 * mm_h};
  soil.wetting_front_suction = 0.11;
  soil.porosity = 0.45;
  soil.initial_moisture = 0.25;
  return soil;
}
} // namespace

TEST_CASE("steady rain on deep soil: the law of Green and Ampt with the ponding of Mein and Larson") {
  const site::Soil soil = deep_soil();
  const double i = 30 * mm_h, k = 10 * mm_h, drive = 0.11 * 0.2;
  const double ponding = k * drive / (i - k), time = ponding / i; // 11 mm after 22 min
  CHECK_THAT(soil_intake(soil, Wetness::as_it_starts, i, 0.9 * time), WithinAbs(i * 0.9 * time, 1e-12));
  figures::record("study", "steady rain that fills a low spot, deep soil", "taken in before it ponds, mm",
                  (i * 0.9 * time) * 1e3, (soil_intake(soil, Wetness::as_it_starts, i, 0.9 * time)) * 1e3,
                  figures::amount((1e-12) * 1e3));
  const double later = 2 * 3600.0, f = soil_intake(soil, Wetness::as_it_starts, i, later);
  CHECK_THAT(f - ponding - drive * std::log((f + drive) / (ponding + drive)),
             WithinAbs(k * (later - time), 1e-10));
  CHECK(soil_intake(soil, Wetness::as_it_starts, 5 * mm_h, 1e5) == 5 * mm_h * 1e5); // never ponds
}

TEST_CASE("thin topsoil fills, then takes in what leaks") {
  site::Soil soil = deep_soil();
  soil.depth = {0.1, 0.1, 0.1};
  soil.tight_conductivity = {1 * mm_h, 1 * mm_h, 1 * mm_h};
  const double i = 30 * mm_h, room = 0.2 * 0.1;
  const double one = soil_intake(soil, Wetness::as_it_starts, i, 6 * 3600.0);
  const double two = soil_intake(soil, Wetness::as_it_starts, i, 7 * 3600.0);
  CHECK(one > room);
  CHECK_THAT(two - one, WithinAbs(1e-3, 1e-12));
  soil.tight_thickness = 0.1;
  CHECK_THAT(soil_intake(soil, Wetness::as_it_starts, i, 7 * 3600.0) -
                 soil_intake(soil, Wetness::as_it_starts, i, 6 * 3600.0),
             WithinAbs(2e-3, 1e-12)); // twice the gradient
  soil.tight_conductivity = {0, 0, 0};
  CHECK_THAT(soil_intake(soil, Wetness::as_it_starts, i, 9e5), WithinAbs(room, 1e-12));
  // Wet: 3 in of the 100 mm are full already.
  CHECK_THAT(soil_intake(soil, Wetness::wet, i, 9e5), WithinAbs(0.2 * (0.1 - 0.0762), 1e-12));
  soil.conductivity = {0, 0, 0};
  CHECK(soil_intake(soil, Wetness::wet, i, 9e5) == 0);
}

TEST_CASE("leaves and small hollows keep their part; under a pool the hollows do not count") {
  site::Area patio;
  patio.impervious = true;
  patio.interception = 0.0005;
  patio.depression_storage = 0.0015;
  const site::Soil soil = deep_soil();
  CHECK(runoff_depth(patio, soil, Wetness::as_it_starts, mm_h, 0.0004) == 0);
  CHECK(runoff_depth(patio, soil, Wetness::as_it_starts, mm_h, 0.002) == 0);
  CHECK_THAT(runoff_depth(patio, soil, Wetness::as_it_starts, mm_h, 0.012), WithinAbs(0.010, 1e-15));
  CHECK_THAT(runoff_depth(patio, soil, Wetness::as_it_starts, mm_h, 0.012, true), WithinAbs(0.0115, 1e-15));
  site::Area lawn = patio;
  lawn.impervious = false;
  double before = 0;
  for (double rain = 0; rain < 0.2; rain += 0.003) { // never falls with rain
    const double now = runoff_depth(lawn, soil, Wetness::as_it_starts, 30 * mm_h, rain);
    CHECK(now >= before - 1e-15);
    CHECK(now <= rain);
    before = now;
  }
  CHECK(before > 0);
}
