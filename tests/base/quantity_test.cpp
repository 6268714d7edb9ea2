#include "catch.hpp"

#include <numbers>

#include <lowspot/base/quantity.hpp>

using namespace lowspot;

namespace {
// Conversions are products of exact factors: a few units in the last place.
void reads(const char* text, Dimension dimension, double expected) {
  INFO(text);
  const ParsedQuantity read = parse_quantity(text, dimension);
  INFO(read.problem);
  REQUIRE(read.ok);
  CHECK_THAT(read.value, WithinRel(expected, 1e-14) || WithinAbs(expected, 1e-300));
}
void refuses(const char* text, Dimension dimension, const char* why) {
  INFO(text);
  const ParsedQuantity read = parse_quantity(text, dimension);
  CHECK_FALSE(read.ok);
  CHECK_THAT(read.problem, ContainsSubstring(why));
}
constexpr double inch = 0.0254, foot = 0.3048, gallon = 3.785411784e-3;
} // namespace

TEST_CASE("Lengths as a tape is read") {
  reads("3 in", Dimension::length, 3 * inch);
  reads("18\"", Dimension::length, 18 * inch);
  reads("18''", Dimension::length, 18 * inch);
  reads("1 1/2 in", Dimension::length, 1.5 * inch);
  reads("1-1/2 inches", Dimension::length, 1.5 * inch);
  reads("3/8 in.", Dimension::length, 0.375 * inch);
  reads("6' 4 3/8\"", Dimension::length, 76.375 * inch);
  reads("6'4-3/8\"", Dimension::length, 76.375 * inch);
  reads("6 ft 4 in", Dimension::length, 76 * inch);
  reads("6ft 4in", Dimension::length, 76 * inch);
  reads("-6' 4\"", Dimension::length, -76 * inch);
  for (const char* text : {"5'-6\"", "5' - 6\"", "5ft-6in"}) reads(text, Dimension::length, 66 * inch);
  reads("5'-6 3/8\"", Dimension::length, 66.375 * inch);
  for (const char* text : {"5'-6", "5'--6\"", "--5 in", "6\"-5'", "5 m-6 in"})
    CHECK_FALSE(parse_quantity(text, Dimension::length).ok);
  reads("\xE2\x88\x92"
        "2 cm",
        Dimension::length, -0.02);
  reads("6\xE2\x80\xB2 4\xC2\xBD\xE2\x80\xB3", Dimension::length, 76.5 * inch);
  reads("12.5 Feet", Dimension::length, 12.5 * foot);
  reads("2 yd", Dimension::length, 6 * foot);
  reads(".5 m", Dimension::length, 0.5);
  reads("18 mm", Dimension::length, 0.018);
  reads("1.8e1 mm", Dimension::length, 0.018);
  reads("0 in", Dimension::length, 0);
  reads("+5 cm", Dimension::length, 0.05);
}

TEST_CASE("Rates, flows, areas, volumes and times") {
  for (const char* text :
       {"0.25 in/hr", "0.25 inches per hour", "0.25 in. / h", "0.25 iph", "1/4 in/hr", "6 in/d"})
    reads(text, Dimension::speed, 0.25 * inch / 3600);
  reads("25 mm/hr", Dimension::speed, 0.025 / 3600);
  reads("25 mm/h", Dimension::speed, 0.025 / 3600);
  reads("25 mm h-1", Dimension::speed, 0.025 / 3600);
  reads("4 mm/d", Dimension::speed, 0.004 / 86400);
  reads("0.18 in/d", Dimension::speed, 0.18 * inch / 86400);
  reads("1 cm/h", Dimension::speed, 0.01 / 3600);
  reads("2.5e-6 m/s", Dimension::speed, 2.5e-6);
  reads("1 in per 2 hr", Dimension::speed, inch / 7200);
  reads("90 gal/min/ft2", Dimension::speed, 90 * gallon / 60 / (foot * foot));
  reads("8 gal/min", Dimension::flow, 8 * gallon / 60);
  reads("8 gpm", Dimension::flow, 8 * gallon / 60);
  reads("8 Gallons per Minute", Dimension::flow, 8 * gallon / 60);
  reads("2 L/s", Dimension::flow, 0.002);
  reads("0.01 m3/s", Dimension::flow, 0.01);
  reads("0.01 m^3 s^-1", Dimension::flow, 0.01);
  reads("1 ft3/s", Dimension::flow, foot * foot * foot);
  reads("1 cfs", Dimension::flow, foot * foot * foot);
  for (const char* text : {"420 ft2", "420 sq ft", "420 sq. ft.", "420 square feet", "420 sqft", "420 sf",
                           "420 ft^2", "420 ft\xC2\xB2"})
    reads(text, Dimension::area, 420 * foot * foot);
  reads("1 acre", Dimension::area, 43560 * foot * foot);
  reads("30 m2", Dimension::area, 30);
  reads("2 cubic yards", Dimension::volume, 54 * foot * foot * foot);
  reads("2 cu yd", Dimension::volume, 54 * foot * foot * foot);
  reads("2 yd3", Dimension::volume, 54 * foot * foot * foot);
  reads("50 gal", Dimension::volume, 50 * gallon);
  reads("50 l", Dimension::volume, 0.05);
  reads("5 d", Dimension::time, 5 * 86400.);
  reads("36 hr", Dimension::time, 36 * 3600.);
  reads("36 hours", Dimension::time, 36 * 3600.);
  reads("30 min", Dimension::time, 1800);
  reads("9000 s", Dimension::time, 9000);
  reads("1 hr 30 min", Dimension::time, 5400);
  reads("1 1/2 hrs", Dimension::time, 5400);
  reads("10 yr", Dimension::time, 3652.5 * 86400);
}

TEST_CASE("Slopes, angles, openings, permittivities and temperatures") {
  reads("1 in per 8 ft", Dimension::slope, 1 / 96.);
  reads("1 in / 8 ft", Dimension::slope, 1 / 96.);
  reads("6 in in 10 ft", Dimension::slope, 0.05);
  reads("1/4 in/ft", Dimension::slope, 1 / 48.);
  reads("1/4\" per foot", Dimension::slope, 1 / 48.);
  reads("2 %", Dimension::slope, 0.02);
  reads("2%", Dimension::slope, 0.02);
  reads("-0.5 percent", Dimension::slope, -0.005);
  reads("1:50", Dimension::slope, 0.02);
  reads("1 cm/m", Dimension::slope, 0.01);
  reads("45 deg", Dimension::slope, 1);
  reads("180 deg", Dimension::angle, std::numbers::pi);
  reads("90\xC2\xB0", Dimension::angle, std::numbers::pi / 2);
  reads("2 rad", Dimension::angle, 2);
  reads("20 cm2/m", Dimension::area_per_length, 0.002);
  reads("1 in2/ft", Dimension::area_per_length, inch * inch / foot);
  for (const char* text : {"1.5 /s", "1.5 1/s", "1.5 s-1", "1.5 per second"})
    reads(text, Dimension::per_time, 1.5);
  reads("1/s", Dimension::per_time, 1);
  reads("12 1/m", Dimension::per_length, 12);
  reads("68 F", Dimension::temperature, 20);
  reads("-5 deg C", Dimension::temperature, -5);
}

TEST_CASE("What cannot be a quantity is refused with its reason") {
  refuses("3", Dimension::length, "no unit");
  refuses("0.02", Dimension::slope, "1 in per 8 ft");
  refuses("1 1/2", Dimension::length, "no unit");
  refuses("2.5.3 in", Dimension::length, "2.5.3");
  refuses("3 in deep", Dimension::length, "deep");
  refuses("3 in 4", Dimension::length, "no unit");
  refuses("3 in / 0 s", Dimension::speed, "zero");
  refuses("4 in 6 ft", Dimension::length, "more than one");
  refuses("1,5 cm", Dimension::length, "comma");
  refuses("3 fot", Dimension::length, "ft");
  refuses("3 hr", Dimension::length, "a time, not a length such as \"6 in\"");
  refuses("20 cm2/m", Dimension::length, "open area per length");
  refuses("2 cm", Dimension::area_per_length, "a length");
  refuses("0.25 in", Dimension::speed, "a length");
  refuses("3:1", Dimension::slope, "1:3");
  refuses("1:50", Dimension::length, "slope");
  refuses("2 deg", Dimension::length, "an angle");
  refuses("-3 gpm", Dimension::flow, "negative");
  refuses("-1 d", Dimension::time, "negative");
  refuses("1/0 in", Dimension::length, "fraction");
  refuses("1 7/4 in", Dimension::length, "mixed");
  refuses("1.5 3/4 in", Dimension::length, "mixed");
  refuses("in", Dimension::length, "no number");
  refuses("", Dimension::length, "empty");
  refuses("  ", Dimension::length, "empty");
  refuses("1e999 m", Dimension::length, "not a number");
  refuses("1e300 km3", Dimension::volume, "too large");
  refuses("nan in", Dimension::length, "no number");
  refuses("3 in;", Dimension::length, "cannot read");
  refuses("20", Dimension::temperature, "C or F");
  refuses("3 in/", Dimension::speed, "unit is missing");
  refuses("3 sq", Dimension::area, "unit is missing");
}

TEST_CASE("Every example in a message parses as what it is an example of") {
  for (int k = 0; k <= static_cast<int>(Dimension::temperature); ++k) {
    const auto dimension = static_cast<Dimension>(k);
    const std::string example = dimension_example(dimension);
    INFO(example);
    CHECK(parse_quantity(example.substr(1, example.size() - 2), dimension).ok);
    CHECK_FALSE(dimension_name(dimension).empty());
  }
}

TEST_CASE("No text, however damaged, does more than be refused") {
  const std::string pieces[] = {"1", "/",  " ", "in", "ft", "-", ":", "per",
                                "'", "\"", ".", "2",  "e",  "^", "*", "%"};
  unsigned state = 12345;
  for (int k = 0; k < 20000; ++k) {
    std::string text;
    for (int n = 0; n < 6; ++n) {
      state = state * 1664525u + 1013904223u;
      text += pieces[(state >> 16) % std::size(pieces)];
    }
    const ParsedQuantity read = parse_quantity(text, static_cast<Dimension>(k % 12));
    CHECK(read.ok == read.problem.empty());
  }
}

TEST_CASE("A comma may part feet from inches, and nothing else") {
  CHECK_THAT(parse_quantity("6 feet, 4 inches", Dimension::length).value, WithinAbs(76 * 0.0254, 1e-12));
  CHECK_THAT(parse_quantity("6', 4 3/8\"", Dimension::length).value, WithinAbs(76.375 * 0.0254, 1e-12));
  CHECK_THAT(parse_quantity("1 hr, 30 min", Dimension::time).value, WithinAbs(5400, 1e-9));
  for (const char* text : {"1,5 m", "1,500 ft", "6 ft,", "6 ft, inches", ", 6 ft", "6 ft,, 4 in",
                           "4 in, 6 ft", "6 ft, 4", "6,4 ft"}) {
    CAPTURE(text);
    CHECK_FALSE(parse_quantity(text, Dimension::length).ok);
  }
}
