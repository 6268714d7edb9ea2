#include <lowspot/job/rod_text.hpp>

#include "catch.hpp"

using namespace lowspot::job;

TEST_CASE("rod readings are written as crews read them") {
  CHECK(rod_text(5 * 0.3048 + 4.375 * 0.0254, RodUnit::eighths) == "5' 4 3/8\"");
  CHECK(rod_text(5 * 0.3048 + 0.5 * 0.0254, RodUnit::eighths) == "5' 0 1/2\"");
  CHECK(rod_text(5 * 0.3048, RodUnit::eighths) == "5' 0\"");
  CHECK(rod_text(5.999 * 0.3048, RodUnit::eighths) == "6' 0\"");
  CHECK(rod_text(5.364 * 0.3048, RodUnit::tenths) == "5.36 ft");
  CHECK(rod_text(5.04 * 0.3048, RodUnit::tenths) == "5.04 ft");
  CHECK(rod_text(1.6344, RodUnit::millimetres) == "1634 mm");
  CHECK(rod_text(-0.0254, RodUnit::eighths) == "-0' 1\"");
}

TEST_CASE("small differences lose their sign, and nothing is said below the finest mark") {
  CHECK(difference_text(-0.375 * 0.0254, RodUnit::eighths) == "3/8 in");
  CHECK(difference_text(1.25 * 0.0254, RodUnit::eighths) == "1 1/4 in");
  CHECK(difference_text(0.009, RodUnit::millimetres) == "9 mm");
  CHECK(difference_text(0.03 * 0.3048, RodUnit::tenths) == "0.03 ft");
  CHECK(difference_text(0.0001, RodUnit::eighths).empty());
}

TEST_CASE("stations are written and read back") {
  CHECK(station_text(0, true) == "0+00");
  CHECK(station_text(5 * 0.3048, true) == "0+05");
  CHECK(station_text(130 * 0.3048, true) == "1+30");
  CHECK(station_text(45.5 * 0.3048, true) == "0+45.5");
  CHECK(station_text(9.1, false) == "9.1 m");
  for (const double feet : {0.0, 5.0, 45.5, 100.0, 262.5}) {
    const auto read = parse_station(station_text(feet * 0.3048, true), 0.3048);
    REQUIRE(read);
    CHECK_THAT(*read, WithinAbs(feet * 0.3048, 1e-9));
  }
  CHECK_THAT(*parse_station("30", 0.3048), WithinAbs(9.144, 1e-9));
  CHECK_THAT(*parse_station("9.1 m", 0.3048), WithinAbs(9.1, 1e-9));
  for (const char* bad : {"", "x", "0+", "0+130", "-3", "1.5+20", "3 ft"})
    CHECK_FALSE(parse_station(bad, 0.3048));
}

TEST_CASE("in a yard in metres a plus parts kilometres from three digits of metres") {
  CHECK_THAT(*parse_station("0+030", 1), WithinAbs(30, 1e-9));
  CHECK_THAT(*parse_station("1+250.5", 1), WithinAbs(1250.5, 1e-9));
  CHECK_THAT(*parse_station("0+009.1", 1), WithinAbs(9.1, 1e-9));
  CHECK_THAT(*parse_station("30", 1), WithinAbs(30, 1e-9));
  for (const char* bad : {"", "x", "0+", "0+30", "0+0300", "0+30.25", "-3", "1.5+020", "0+-30", "3 ft"})
    CHECK_FALSE(parse_station(bad, 1));
}

TEST_CASE("lengths beyond any yard are written, too") {
  CHECK(station_text(2.2e37, true) == "2.2e37 m");
  CHECK(station_text(1e9, true).find('+') != std::string::npos);
  for (const RodUnit unit : {RodUnit::eighths, RodUnit::tenths, RodUnit::millimetres}) {
    CHECK(rod_text(1e300, unit) == rod_text(1e9, unit));
    CHECK(rod_text(-1e300, unit)[0] == '-');
  }
}

TEST_CASE("a width is told in inches or millimetres") {
  CHECK(width_text(11 * 0.0254, RodUnit::eighths) == "11 in");
  CHECK(width_text(12 * 0.0254, RodUnit::tenths) == "12 in");
  CHECK(width_text(0.3, RodUnit::millimetres) == "300 mm");
  CHECK(width_text(0, RodUnit::eighths) == "0");
}

TEST_CASE("where a pipe comes out above the ground there is nothing to dig") {
  CHECK(cut_text(-0.016, RodUnit::eighths) == "none");
  CHECK(cut_text(0.0254, RodUnit::eighths) == "0' 1\"");
}

TEST_CASE("rod units have names") {
  CHECK(rod_unit_named("Eighths") == RodUnit::eighths);
  CHECK(rod_unit_named("mm") == RodUnit::millimetres);
  CHECK_FALSE(rod_unit_named("cubits"));
}
