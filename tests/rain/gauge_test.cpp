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
