#include "catch.hpp"

#include <lowspot/base/error.hpp>
#include <lowspot/rain/gauge.hpp>

#include "rain/sample_file.hpp"

using namespace lowspot;
using namespace lowspot::rain;
using sample::File;

namespace {
Hyetograph read(const std::string& content) {
  const File file(content);
  return read_gauge(file.path);
}
} // namespace

TEST_CASE("Relative times: each label starts its interval, the last is as long as usual") {
  const Hyetograph rain = read("time_min,rain_mm\n10,1\n15,3\n20,0\n25,2\n");
  CHECK(rain.time == std::vector<double>{0, 300, 600, 900, 1200});
  CHECK(rain.depth() == Approx(0.006));
  CHECK(rain.at(0) == Approx(1e-3 / 300));
  CHECK(rain.at(450) == Approx(3e-3 / 300));
  CHECK(rain.end_of_rain() == 1200);
  CHECK(rain.warnings.empty());
  CHECK(read("time_h,depth_in\n0,0.5\n1,0.25\n").depth() == Approx(0.75 * 0.0254));
  CHECK(read("time_s,rain (in.)\n0,1\n60,1\n").depth() == Approx(2 * 0.0254));
}

TEST_CASE("Dates run over midnight, month's end and leap days") {
  const Hyetograph rain =
      read("Time(utc),rain_mm\n2024-02-28 23:55,1\n2024-02-29 00:00:00,2\n2024-02-29T00:05,3\n");
  CHECK(rain.time == std::vector<double>{0, 300, 600, 900});
  CHECK(rain.depth() == Approx(0.006));
  CHECK(read("date,rain_mm\n2023-02-28,1\n2023-03-01,2\n").time[1] == 86400);
  CHECK(read("date,rain_mm\n2024-02-28,1\n2024-03-01,2\n").time[1] == 2 * 86400);
}

TEST_CASE("A gap is dry and said, and no rain is lost in it") {
  const Hyetograph rain = read("time_min,rain_mm\n0,1\n5,2\n60,3\n65,4\n");
  CHECK(rain.depth() == Approx(0.010));
  CHECK(rain.at(7 * 60) == Approx(2e-3 / 300));
  CHECK(rain.at(30 * 60) == 0);
  REQUIRE(rain.warnings.size() == 1);
  CHECK_THAT(rain.warnings[0], ContainsSubstring("row 3"));
  const Hyetograph holed = read("time_min,rain_mm\n0,1\n5,2\n60,3\n120,4\n");
  REQUIRE(holed.warnings.size() == 1);
  CHECK_THAT(holed.warnings[0], ContainsSubstring("2 gaps, the first after row 3"));
  CHECK(holed.depth() == Approx(0.010));
}

TEST_CASE("Records that would be misread are refused") {
  CHECK_THROWS_WITH(read("time_min,rain\n0,1\n5,1\n"), ContainsSubstring("without a unit"));
  CHECK_THROWS_WITH(read("time_min,rain_mm_h\n0,1\n5,1\n"), ContainsSubstring("rate"));
  CHECK_THROWS_WITH(read("time,rain_mm\n0,1\n5,1\n"), ContainsSubstring("unit of time"));
  CHECK_THROWS_WITH(read("time_min,rain_mm\n5,1\n0,1\n"),
                    ContainsSubstring(":3") && ContainsSubstring("sort"));
  CHECK_THROWS_WITH(read("time_min,rain_mm\n0,1\n0,1\n"), ContainsSubstring("rising"));
  CHECK_THROWS_WITH(read("time_min,rain_mm\n0,1\n5,-999\n"), ContainsSubstring("negative"));
  CHECK_THROWS_WITH(read("time_min,rain_mm\n0,1\n5,\n"), ContainsSubstring("empty cell"));
  CHECK_THROWS_WITH(read("time_min,rain_mm\n0,1\n"), ContainsSubstring("two"));
  CHECK_THROWS_WITH(read("when,rain_mm\n0,1\n5,1\n"), ContainsSubstring("no column of time"));
  CHECK_THROWS_WITH(read("time_min,a,b\n0,1,1\n5,1,1\n"), ContainsSubstring("no column of rain"));
  CHECK_THROWS_AS(read("time,rain_mm\n2024-13-01 00:00,1\n2024-13-01 00:05,1\n"), InputError);
}

TEST_CASE("A record of many years is refused: one slip in a date makes it") {
  CHECK_THROWS_WITH(read("time,rain_mm\n2024-05-01 00:00,1\n2924-05-01 00:05,1\n"),
                    ContainsSubstring(":3") && ContainsSubstring("three years"));
}

TEST_CASE("the unit of depth may stand in the cells") {
  const Hyetograph rain = read("time_h,depth\n0,0\n1,0.4 in\n2,10 mm\n");
  CHECK(rain.depth() == Approx(0.4 * 0.0254 + 0.010));
  CHECK_THROWS_WITH(read("time_h,depth\n0,0.4 in\n1,0.4\n"), ContainsSubstring("with its unit"));
  CHECK_THROWS_WITH(read("time_h,depth\n0,0.4 in\n1,-0.4 in\n"), ContainsSubstring("negative"));
}

TEST_CASE("A day that no month has is no date") {
  CHECK_NOTHROW(read("time,rain_mm\n2024-02-29 00:00,1\n2024-03-01 00:00,1\n"));
  CHECK_NOTHROW(read("time,rain_mm\n2023-12-31 00:00,1\n2024-01-01 00:00,1\n"));
  CHECK_THROWS_AS(read("time,rain_mm\n2023-02-28 00:00,1\n2023-02-29 00:00,1\n"), InputError);
  CHECK_THROWS_AS(read("time,rain_mm\n2023-04-30 00:00,1\n2023-04-31 00:00,1\n"), InputError);
}

TEST_CASE("a gauge read by hand: each reading is what fell since the one before") {
  const Hyetograph rain =
      read("time_end,rain_in\n2024-05-01 14:00,0\n2024-05-01 15:00,0.5\n2024-05-01 18:00,0.6\n");
  CHECK(rain.time == std::vector<double>{0, 3600, 4 * 3600}); // four hours, not five
  CHECK(rain.end_of_rain() == 4 * 3600);
  CHECK(rain.depth() == Approx(1.1 * 0.0254));
  CHECK(rain.at(2 * 3600) == Approx(0.2 * 0.0254 / 3600));
  CHECK(rain.warnings.empty());
  CHECK(read("calendar_date,rain_mm\n2024-05-01,1\n2024-05-02,2\n").time.back() == 2 * 86400);
  const Hyetograph wet = read("until_h,rain_mm\n2,1\n3,2\n5,4\n"); // the first fell in an hour, as the second
  CHECK(wet.time == std::vector<double>{0, 3600, 2 * 3600, 4 * 3600});
  CHECK(wet.depth() == Approx(0.007));
}

TEST_CASE("labels that look like readings are pointed at, with what comes of it") {
  const Hyetograph rain = read("time_h,rain_mm\n14,0\n15,2\n16,3\n");
  CHECK(rain.end_of_rain() == 3 * 3600);
  REQUIRE(rain.warnings.size() == 1);
  CHECK_THAT(rain.warnings[0],
             ContainsSubstring("60 min after the last row") && ContainsSubstring("time_end"));
}

TEST_CASE("Times with a zone are told apart where clocks change, and mixed ones are refused") {
  const Hyetograph rain =
      read("time,rain_mm\n2024-11-03T01:30-05:00,1\n2024-11-03T01:00-06:00,2\n2024-11-03T07:30Z,3\n");
  CHECK(rain.time == std::vector<double>{0, 1800, 3600, 5400});
  CHECK(rain.depth() == Approx(0.006));
  CHECK_THROWS_WITH(read("time,rain_mm\n2024-11-03T01:30Z,1\n2024-11-03T02:00,2\n"),
                    ContainsSubstring(":3") && ContainsSubstring("zone"));
}

TEST_CASE("Clocks of twelve hours are read as such, and labels of another kind are refused") {
  const Hyetograph rain =
      read("time,rain_mm\n2024-05-17 11:55 AM,1\n2024-05-17 12:00 PM,2\n2024-05-17 12:05 pm,3\n");
  CHECK(rain.time == std::vector<double>{0, 300, 600, 900});
  const auto refused = [](const std::string& label) {
    const std::string table = "time,rain_mm\n" + label + ",1\n" + label + ",2\n";
    CHECK_THROWS_WITH(read(table), ContainsSubstring(":2: time") && ContainsSubstring("2024-05-17 14:05") &&
                                       ContainsSubstring("year first"));
  };
  refused("2024-05-17 14:05 noon");
  refused("05/17/2024 14:05");
  refused("2024-05-17 14");
  refused("17.5.2024 14:05");
  refused("14:05");
}

TEST_CASE("A running total is taken apart; its falls are restarts") {
  const Hyetograph rain = read("time_min,cumulative_rain_mm\n0,7\n5,8\n10,11\n15,2\n20,2\n");
  CHECK(rain.time == std::vector<double>{0, 300, 600, 900, 1200});
  CHECK(rain.depth() == Approx(0.006));
  CHECK(rain.at(450) == Approx(3e-3 / 300));
  CHECK(rain.at(700) == Approx(2e-3 / 300));
  CHECK(rain.end_of_rain() == 900);
  REQUIRE(rain.warnings.size() == 2);
  CHECK_THAT(rain.warnings[0], ContainsSubstring("row 2") && ContainsSubstring("7 mm"));
  CHECK_THAT(rain.warnings[1], ContainsSubstring("row 5") && ContainsSubstring("restart"));
}

TEST_CASE("Rows that never fall are pointed at as a running total, with what is at stake") {
  const Hyetograph rain = read("time_min,rain_mm\n0,0\n5,1\n10,3\n15,6\n20,10\n25,10\n");
  CHECK(rain.depth() == Approx(0.030));
  REQUIRE_FALSE(rain.warnings.empty());
  CHECK_THAT(rain.warnings.back(), ContainsSubstring("running total") && ContainsSubstring("30 mm") &&
                                       ContainsSubstring("10 mm") && ContainsSubstring("cumulative"));
  CHECK(read("time_min,rain_mm\n0,2\n5,2\n10,2\n15,2\n20,2\n25,2\n").warnings.empty()); // steady rain
  CHECK(read("time_min,rain_mm\n0,0\n5,1\n10,3\n15,6\n20,10\n25,9\n").warnings.size() == 1);
}

TEST_CASE("A running total that began anew at nothing is pointed at as well; a storm that ends is not") {
  const sample::File file("time_min,rain_mm\n0,4\n5,4\n10,0\n15,3\n20,6\n25,9\n30,9\n35,9\n");
  CHECK_THAT(read_gauge(file.path).warnings.back(), ContainsSubstring("but to begin anew") &&
                                                        ContainsSubstring("44 mm") &&
                                                        ContainsSubstring("9 mm"));
  const sample::File storm("time_min,rain_mm\n0,0\n5,1\n10,3\n15,6\n20,0\n25,0\n");
  for (const std::string& warning : read_gauge(storm.path).warnings)
    CHECK_THAT(warning, !ContainsSubstring("running total"));
}

TEST_CASE("One odd row does not press the rain of all others into its interval") {
  const Hyetograph rain = read("time_min,rain_mm\n0,1\n5,2\n10,3\n11,1\n15,4\n20,5\n25,5\n30,2\n35,1\n");
  CHECK(rain.depth() == Approx(0.024));
  CHECK(rain.warnings.empty());
  CHECK(rain.at(60) == Approx(1e-3 / 300));
  CHECK(rain.at(17 * 60) == Approx(4e-3 / 300));
  CHECK(rain.time.back() == 40 * 60);
}

TEST_CASE("Rows at uneven times are pointed at, and all their rain is kept") {
  const Hyetograph rain =
      read("time_min,rain_mm\n0,0.2\n3.2,0.2\n3.5,0.2\n7,0.2\n20,0.2\n22,0.2\n37,0.2\n38.1,0.2\n");
  CHECK(rain.depth() == Approx(0.0016));
  CHECK(rain.peak_intensity() * 60 < 0.0008); // two tips within a quarter of a minute are no cloudburst
  REQUIRE_FALSE(rain.warnings.empty());
  CHECK_THAT(rain.warnings.back(), ContainsSubstring("uneven") && ContainsSubstring("time_end"));
}

TEST_CASE("A heading that counts in parts of a unit is refused, not taken for whole ones") {
  for (const char* heading :
       {"rain (0.1 mm)", "rain_tenths_mm", "rain in 1/10 mm", "precip hundredths in", "rain 100ths inch"})
    CHECK_THROWS_WITH(read("time_min," + std::string(heading) + "\n0,10\n5,20\n"),
                      ContainsSubstring("part of a unit") && ContainsSubstring("rain_mm"));
  CHECK(read("time_min,rain in cm\n0,0.1\n5,0.2\n").depth() == Approx(0.003));
}

TEST_CASE("Rain near the hardest ever measured is pointed at") {
  CHECK(read("time_min,rain_mm\n0,10\n5,20\n").warnings.empty());
  const Hyetograph rain = read("time_min,rain_in\n0,10\n5,20\n10,3\n");
  REQUIRE_FALSE(rain.warnings.empty());
  CHECK_THAT(rain.warnings.back(), ContainsSubstring("hardest rain ever measured") &&
                                       ContainsSubstring("(20 in) in 5 min") && ContainsSubstring("unit"));
  const Hyetograph whole = read("time_h,rain_in\n0,9\n1,8\n2,7\n3,9\n4,8\n5,7\n6,9\n");
  REQUIRE_FALSE(whole.warnings.empty());
  CHECK_THAT(whole.warnings.back(), ContainsSubstring("hardest rain ever measured"));
}

TEST_CASE("A running total that wavers brings no rain, and it is said") {
  const Hyetograph rain = read("time_min,cumulative_rain_mm\n0,0\n5,25\n10,24.9\n15,25\n20,26\n25,25.8\n");
  CHECK(rain.depth() == Approx(0.026));
  CHECK(rain.at(700) == 0);
  CHECK(rain.at(1000) == Approx(1e-3 / 300));
  REQUIRE(rain.warnings.size() == 1);
  CHECK_THAT(rain.warnings[0], ContainsSubstring("a little 2 times, first in row 4, by up to 0.2 mm"));
}

TEST_CASE("A record without any rain is pointed at") {
  const Hyetograph dry = read("time_min,rain_mm\n0,0\n5,0\n10,0\n");
  REQUIRE(dry.warnings.size() == 1);
  CHECK_THAT(dry.warnings[0], ContainsSubstring("no row has any rain"));
  CHECK(read("time_min,rain_mm\n0,0\n5,0.1\n10,0\n").warnings.empty());
}
