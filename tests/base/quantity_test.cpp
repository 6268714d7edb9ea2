#include "catch.hpp"

#include <numbers>

#include <lowspot/base/quantity.hpp>

using namespace lowspot;

TEST_CASE("quantities as people write them") {
  struct Case {
    const char* text;
    Dimension dimension;
    double value;
  };
  const double in = 0.0254, ft = 0.3048, gal = 3.785411784e-3;
  const Case cases[] = {
      {"3 in", Dimension::length, 3 * in},
      {"1 1/2 in", Dimension::length, 1.5 * in},
      {"1-1/2 in", Dimension::length, 1.5 * in},
      {"3/8 inch", Dimension::length, 0.375 * in},
      {"18\"", Dimension::length, 18 * in},
      {"6'", Dimension::length, 6 * ft},
      {"6' 4 3/8\"", Dimension::length, 6 * ft + 4.375 * in},
      {"6 ft 4 in", Dimension::length, 6 * ft + 4 * in},
      {"-0.5 ft", Dimension::length, -0.5 * ft},
      {"18 mm", Dimension::length, 0.018},
      {"2 yards", Dimension::length, 6 * ft},
      {"0.25 in/hr", Dimension::speed, 0.25 * in / 3600},
      {"0.25 in per hour", Dimension::speed, 0.25 * in / 3600},
      {"25 mm/h", Dimension::speed, 0.025 / 3600},
      {"0.18 in/d", Dimension::speed, 0.18 * in / 86400},
      {"2 mm/d", Dimension::speed, 0.002 / 86400},
      {"1e-6 m/s", Dimension::speed, 1e-6},
      {"0 mm/d", Dimension::speed, 0},
      {"8 gal/min", Dimension::flow, 8 * gal / 60},
      {"8 gpm", Dimension::flow, 8 * gal / 60},
      {"2 L/s", Dimension::flow, 0.002},
      {"0.5 ft3/s", Dimension::flow, 0.5 * ft * ft * ft},
      {"420 ft2", Dimension::area, 420 * ft * ft},
      {"420 sq ft", Dimension::area, 420 * ft * ft},
      {"420 sq. ft.", Dimension::area, 420 * ft * ft},
      {"5 cubic yards", Dimension::volume, 5 * 27 * ft * ft * ft},
      {"1 in per 8 ft", Dimension::slope, in / (8 * ft)},
      {"1/4 in/ft", Dimension::slope, 0.25 * in / ft},
      {"2 %", Dimension::slope, 0.02},
      {"1:50", Dimension::slope, 0.02},
      {"5 d", Dimension::time, 5 * 86400.0},
      {"36 hr", Dimension::time, 36 * 3600.0},
      {"30 min", Dimension::time, 1800},
      {"9000 s", Dimension::time, 9000},
      {"2 hours", Dimension::time, 7200},
      {"20 cm2/m", Dimension::area_per_length, 20e-4},
      {"1 in2/ft", Dimension::area_per_length, in * in / ft},
      {"1.5 1/s", Dimension::per_time, 1.5},
      {"1.5 /s", Dimension::per_time, 1.5},
      {"12 1/m", Dimension::per_length, 12},
      {"90 deg", Dimension::angle, std::numbers::pi / 2},
      {"68 F", Dimension::temperature, 20},
  };
  for (const Case& one : cases) {
    const ParsedQuantity parsed = parse_quantity(one.text, one.dimension);
    INFO(one.text << ": " << parsed.problem);
    CHECK(parsed.ok);
    CHECK(std::abs(parsed.value - one.value) <= 1e-12 * std::abs(one.value));
  }
}

TEST_CASE("what is not a quantity of the kind asked for is refused, with a reason") {
  struct Case {
    const char* text;
    Dimension dimension;
    const char* reason;
  };
  const Case cases[] = {
      {"", Dimension::length, "empty"},
      {"6", Dimension::length, "no unit"},
      {"1 1/2", Dimension::length, "no unit"},
      {"2.5.3 in", Dimension::length, "number"},
      {"in 6", Dimension::length, "number"},
      {"6 furlong", Dimension::length, "unknown unit 'furlong'"},
      {"6 in extra", Dimension::length, "extra"},
      {"6 in/hr", Dimension::length, "is not a length"},
      {"6 in", Dimension::speed, "is not a rate"},
      {"2 % slope", Dimension::slope, "slope"},
      {"1:", Dimension::slope, "number"},
      {"6 in 4 ft", Dimension::length, "not understood"},
      {"6' 4 ft", Dimension::length, "feet and inches"},
      {"nan in", Dimension::length, "number"},
      {"1e999 in", Dimension::length, "number"},
  };
  for (const Case& one : cases) {
    const ParsedQuantity parsed = parse_quantity(one.text, one.dimension);
    INFO(one.text << ": " << parsed.problem);
    CHECK_FALSE(parsed.ok);
    CHECK_THAT(parsed.problem, ContainsSubstring(one.reason));
  }
}

TEST_CASE("every example that a message gives parses") {
  for (int k = 0; k <= static_cast<int>(Dimension::temperature); ++k) {
    const Dimension dimension = static_cast<Dimension>(k);
    if (dimension == Dimension::slope) continue; // gives two examples in one text
    const std::string example = dimension_example(dimension);
    CHECK(parse_quantity(example.substr(1, example.size() - 2), dimension).ok);
  }
}
