#include <lowspot/site/hole_table.hpp>

#include <cmath>

#include "sample.hpp"

using namespace lowspot;
using site::BookedHole;

namespace {
constexpr double inch = 0.0254;

std::vector<BookedHole> read(const std::string& text) {
  return site::read_hole_table(parse_csv(text, "holes.csv"));
}

InputError refused(const std::string& text) {
  try {
    read(text);
  } catch (const InputError& error) {
    return error;
  }
  FAIL("this was read without an error:\n" << text);
  return InputError({}, "", "", "");
}
} // namespace

TEST_CASE("readings of levels, with units in the headings") {
  const auto holes = read("hole,diameter_in,depth_in,time_min,water_depth_in,presoak,date,note\n"
                          "A,6,18,0,8,yes,2024-05-17,by the fence\n"
                          "A,,,30,7.5,,,\n"
                          ",,,60,7.0,,,\n"
                          "B,8,20,0,6,no,2024-08-02,\n"
                          "B,,,15,5,,,\n");
  REQUIRE(holes.size() == 2);
  CHECK(holes[0].name == "A");
  CHECK(holes[0].line == 2);
  CHECK(holes[0].month == 5);
  CHECK(holes[0].test.diameter == Approx(6 * inch));
  CHECK(holes[0].depth == Approx(18 * inch));
  CHECK(holes[0].test.presoak == measure::full_presoak);
  REQUIRE(holes[0].test.readings.size() == 3);
  CHECK(holes[0].test.readings[2].time == 3600);
  CHECK(holes[0].test.readings[2].water_depth == Approx(7 * inch));
  CHECK(holes[1].presoak_known);
  CHECK(holes[1].test.presoak == 0);
  CHECK(holes[1].month == 8);
}

TEST_CASE("drops, by the reading or in one row, are levels below the filling") {
  const auto rows = read("hole,diameter,time,water_depth,drop\n1,6 in,0 min,8 in,0\n1,6 in,30 min,,0.5 in\n"
                         "1,6 in,1 hr,8 in,1 in\n");
  REQUIRE(rows[0].test.readings.size() == 3);
  CHECK(rows[0].test.readings[1].water_depth == Approx(7.5 * inch));
  CHECK(rows[0].test.readings[2].water_depth ==
        Approx(7 * inch)); // the depth repeated is that of the filling
  const auto levels = read("diameter_in,time_min,water_depth_in,drop_in\n6,0,8,0\n6,30,7.5,0.5\n6,60,7,1\n");
  CHECK(levels[0].test.readings[2].water_depth == Approx(7 * inch)); // or both say the level
  const auto one = read("diameter_in,water_depth_in,drop_in,time_min\n6,8,1,45\n");
  REQUIRE(one[0].test.readings.size() == 2);
  CHECK(one[0].name == "1");
  CHECK(one[0].test.readings[0].time == 0);
  CHECK(one[0].test.readings[0].water_depth == Approx(8 * inch));
  CHECK(one[0].test.readings[1].water_depth == Approx(7 * inch));
  CHECK(std::isnan(one[0].depth));
  CHECK(!one[0].presoak_known);
}

TEST_CASE("a hole that was filled up, and clock times") {
  const auto holes = read(
      "diameter_in,time,water_depth_in,note\n6,13:50,8,\n6,14:20,7,\n6,14:25,8,refilled\n6,14:55,7.25,\n");
  const auto& readings = holes[0].test.readings;
  REQUIRE(readings.size() == 4);
  CHECK(readings[1].time - readings[0].time == 1800);
  CHECK(readings[2].refilled);
  CHECK(!readings[3].refilled);
  const auto drops = read("diameter_in,time_min,water_depth_in,drop_in,note\n6,0,8,0,\n6,30,,1,\n6,31,8,0,"
                          "filled up\n6,60,,1.5,\n");
  CHECK(drops[0].test.readings[2].refilled);
  CHECK(drops[0].test.readings[3].water_depth == Approx(6.5 * inch));
}

TEST_CASE("bare rates, written either way") {
  const auto holes = read("hole,diameter,water_depth,rate,presoak\na,6 in,6 in,1 in/hr,4 hr\nb,30 cm,15 "
                          "cm,60 min/in,overnight\n");
  REQUIRE(holes.size() == 2);
  CHECK(holes[0].test.rate == Approx(inch / 3600));
  CHECK(holes[1].test.rate == Approx(inch / 3600));
  CHECK(holes[0].test.presoak == 4 * 3600);
  CHECK(holes[1].test.rate_depth == Approx(0.15));
  const auto headed = read("diameter_in,water_depth_in,rate_min_per_in\n6,6,30\n");
  CHECK(headed[0].test.rate == Approx(2 * inch / 3600));
}

TEST_CASE("fractions and feet with inches stand below a heading with a unit, too") {
  const auto holes =
      read("diameter_in,time_h,water_depth_in,drop_in\n6,0,8 1/2,0\n6,1 1/2,,1/8\n6,3,,1-3/8\n");
  const auto& readings = holes[0].test.readings;
  REQUIRE(readings.size() == 3);
  CHECK(readings[0].water_depth == Approx(8.5 * inch));
  CHECK(readings[1].time == 5400);
  CHECK(readings[1].water_depth == Approx(8.375 * inch));
  CHECK(readings[2].water_depth == Approx(7.125 * inch));
  CHECK(refused("diameter_in,time_min,water_depth_in\n6,0,8-9\n6,30,7\n").where.line == 2);
  CHECK(refused("diameter_in,time_min,water_depth_in\n6,0,8\n6,10-20,7\n").where.key == "time_min");
  CHECK(refused("diameter_in,water_depth_in,rate_min_per_in\n6,6,30-40\n").where.line == 2);
}

TEST_CASE("a range of rates, or a rate that is no number, is no rate") {
  for (const std::string rate : {"30-40 min/in", "30 40 min/in", "+-30 min/in", "inf min/in", "0 min/in",
                                 "-30 min/in", "1e400 min/in"}) {
    CAPTURE(rate);
    const InputError error = refused("diameter_in,water_depth_in,rate\n6,6," + rate + "\n");
    CHECK(error.where.line == 2);
    CHECK(error.where.key == "rate");
  }
}

TEST_CASE("tables that cannot be used say where and why") {
  CHECK_THAT(refused("hole,time_min,water_depth_in\nA,0,8\n").expected, ContainsSubstring("diameter"));
  CHECK_THAT(refused("diameter_in,time_min\n6,0\n").expected, ContainsSubstring("water_depth"));
  CHECK_THAT(refused("diamter_in,time_min,water_depth_in\n6,0,8\n").mend, ContainsSubstring("diameter"));
  CHECK_THAT(refused("diameter_kg,time_min,water_depth_in\n6,0,8\n").found, ContainsSubstring("kg"));

  const InputError bare = refused("diameter_in,time,water_depth_in\n6,0,8\n6,30,7\n");
  CHECK(bare.where.file == "holes.csv");
  CHECK(bare.where.line == 3);
  CHECK(bare.where.key == "time");
  CHECK_THAT(bare.expected, ContainsSubstring("unit"));

  const InputError order = refused("diameter_in,time_min,water_depth_in\n6,0,8\n6,30,7\n6,30,6\n");
  CHECK(order.where.line == 4);
  CHECK(order.where.key == "time_min");

  CHECK(refused("diameter_in,time_min,water_depth_in,drop_in\n6,0,8,0\n6,30,,9\n").where.line == 3);
  CHECK(refused("diameter_in,depth_in,time_min,water_depth_in\n6,7,0,8\n6,7,30,7\n").where.line == 2);
  CHECK(refused("diameter_in,time_min,water_depth_in\n6,0,8\n8,30,7\n").where.line == 3);
  CHECK(refused("diameter_in,time_min,water_depth_in\n-6,0,8\n").where.key == "diameter_in");
  CHECK(refused("hole,diameter_in,time_min,water_depth_in\nA,,0,8\nA,,30,7\n").where.key == "diameter_in");
  CHECK_THAT(refused("diameter_in,time_min,water_depth_in\n6,0,8\n").expected,
             ContainsSubstring("two readings"));
  CHECK_THAT(refused("diameter_in,time_min,drop_in\n6,0,0\n6,30,1\n").expected, ContainsSubstring("filled"));
  CHECK_THAT(refused("diameter_in,rate\n6,1 in/hr\n").expected, ContainsSubstring("how deep"));
  CHECK(refused("diameter_in,water_depth_in,rate\n6,6,quick\n").where.line == 2);
  CHECK(refused("diameter_in,time_min,water_depth_in,date\n6,0,8,May 3\n").where.key == "date");
  CHECK(refused("diameter_in,time_min,water_depth_in,presoak\n6,0,8,maybe\n").where.key == "presoak");
  CHECK_THAT(
      refused("hole,diameter_in,time_min,water_depth_in\nA,6,0,8\nA,6,9,7\nB,6,0,8\nB,6,9,7\nA,6,20,6\n")
          .found,
      ContainsSubstring("again"));
  CHECK_THAT(refused("diameter_in,depth_in,hole_depth_in,time_min,drop_in\n6,9,9,0,0\n").found,
             ContainsSubstring("two columns"));
}

TEST_CASE("a hole of fillings alone shows no fall: refused at its first row, with what is missing") {
  const InputError error = refused("hole,diameter_in,time_min,water_depth_in,note\nA,6,0,8,\nA,6,30,7,\n"
                                   "B,6,0,8,filled\nB,,30,8,filled\nB,,60,8,refilled\n");
  CHECK(error.where.line == 4);
  CHECK(error.where.key == "note");
  CHECK_THAT(error.found, ContainsSubstring("hole \"B\"") && ContainsSubstring("filling"));
  CHECK_THAT(error.mend, ContainsSubstring("the level just before each filling"));
}

TEST_CASE("a first row with a drop was filled at time 0, which the clock does not have") {
  const InputError error = refused("diameter_in,time,water_depth_in,drop_in\n6,14:20,8,1\n6,14:50,,1.8\n");
  CHECK(error.where.line == 2);
  CHECK(error.where.key == "drop_in");
  CHECK_THAT(error.expected, ContainsSubstring("the row of the filling"));
  const auto whole = read("diameter_in,time,water_depth_in,drop_in\n6,13:50,8,0\n6,14:20,,1\n6,14:50,,1.8\n");
  CHECK(whole[0].test.readings.size() == 3);
}

TEST_CASE("clocks of twelve hours, notes that deny, years of four digits") {
  const auto clock =
      read("hole,diameter_in,time,water_depth_in,note\nA,6,11:55 AM,8,\nA,,12:25 pm,7,not refilled\n"
           "A,,1:05 PM,6,wasn't filled up\nA,,1:06 PM,8,re-filled\nA,,1:36 PM,7,unfilled yet\n");
  const auto& readings = clock.at(0).test.readings;
  REQUIRE(readings.size() == 5);
  CHECK(readings[1].time - readings[0].time == 1800);
  CHECK(readings[2].time - readings[0].time == 4200);
  CHECK_FALSE(readings[1].refilled);
  CHECK_FALSE(readings[2].refilled);
  CHECK(readings[3].refilled);
  CHECK_FALSE(readings[4].refilled);
  CHECK_THAT(refused("hole,diameter_in,time,water_depth_in\nA,6,12:55,8\nA,,1:05,7\n").mend,
             ContainsSubstring("1:05 PM"));
  CHECK_THROWS_AS(read("hole,diameter_in,time,water_depth_in\nA,6,13:05 PM,8\nA,,14:00,7\n"), InputError);
  for (const char* date : {"05-06-24", "5-6-2024", "2024-05-17x"})
    CHECK_THAT(refused("hole,diameter_in,time_min,water_depth_in,date\nA,6,0,8," + std::string(date) +
                       "\nA,,30,7,\n")
                   .expected,
               ContainsSubstring("year-month-day"));
}
