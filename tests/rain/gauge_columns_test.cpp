#include "catch.hpp"

#include <lowspot/base/error.hpp>
#include <lowspot/rain/gauge_columns.hpp>

using namespace lowspot;
using namespace lowspot::rain;

namespace {
GaugeRows read(const std::string& content) {
  return read_gauge_rows(parse_csv(content, "gauge.csv"));
}
} // namespace

TEST_CASE("Columns are found by their names, whatever stands beside them") {
  const GaugeRows rows = read("station,time_min,temp_c,rain_mm\nA,5,20,1\nA,10,21,2\n");
  CHECK(rows.times == std::vector<double>{300, 600});
  CHECK(rows.depths == std::vector<double>{0.001, 0.002});
  CHECK(rows.lines == std::vector<int>{2, 3});
  CHECK_FALSE(rows.read_off);
  CHECK_FALSE(rows.running_total);
  CHECK(read("time_end_h,rain_mm\n1,1\n2,2\n").read_off);
  CHECK_FALSE(read("calendar_date,rain_mm\n2024-05-01,1\n2024-05-02,2\n").read_off);
  for (const char* name : {"cumulative_mm", "rain_accumulated_mm", "running total of rain (in)"})
    CHECK(read("time_h;" + std::string(name) + "\n1;1\n2;2\n").running_total);
}

TEST_CASE("Date and clock may stand in two columns") {
  const GaugeRows rows =
      read("date,time,rain_mm\n2024-05-17,23:55,1\n2024-05-18,00:05,2\n2024-05-18,1:05 AM,2\n");
  CHECK(rows.times[1] - rows.times[0] == 600);
  CHECK(rows.times[2] - rows.times[1] == 3600);
  CHECK(read("date,time_end,rain_mm\n2024-05-17,23:55,1\n2024-05-18,00:05,2\n").read_off);
  CHECK_THROWS_WITH(read("date,time,rain_mm\n2024-05-17,23:55,1\n2024-05-17,23:50,2\n"),
                    ContainsSubstring(":3: time") && ContainsSubstring("2024-05-17 23:50"));
}

TEST_CASE("A negative number of minutes is a time, not a date") {
  CHECK(read("time_min,rain_mm\n-10,1\n-5,2\n").times == std::vector<double>{-600, -300});
  CHECK(read("time_h,rain_mm\n1e-1,1\n2e-1,2\n").times[1] == Approx(720));
}

TEST_CASE("Times may carry their unit in each cell, as depths do") {
  const GaugeRows rows = read("time,depth\n0,0.1 in\n15 min,0.2 in\n0.5 hr,0.05 in\n");
  CHECK(rows.times == std::vector<double>{0, 900, 1800});
  CHECK(rows.depths[1] == Approx(0.2 * 0.0254));
  CHECK_THROWS_WITH(read("time,rain_mm\n0 min,1\n15,2\n"), ContainsSubstring(":3: time") &&
                                                               ContainsSubstring("'15'") &&
                                                               ContainsSubstring("such as 15 min"));
  CHECK_THROWS_WITH(read("time,rain_mm\n0 min,1\n15 mm,2\n"), ContainsSubstring(":3: time"));
}

TEST_CASE("A rate of rain is not read as a depth: another column is, or the record is refused") {
  for (const char* name : {"rain_rate_in", "rain intensity (mm)", "RainRate_mm", "precip_rate_mm_per_hour"})
    CHECK_THROWS_WITH(read("time_min," + std::string(name) + "\n0,1\n5,1\n"),
                      ContainsSubstring(":1") && ContainsSubstring("a rate of rain") &&
                          ContainsSubstring("multiply each rate"));
  CHECK(read("time_min,rain_rate_in,rain_in\n0,6,0.5\n5,6,0.5\n").depths[0] == Approx(0.0127));
  CHECK(read("time_min,rain_mm_h,rain_mm\n0,60,5\n5,60,5\n").depths[0] == Approx(0.005));
  CHECK(read("time_min,integrated rain (mm)\n0,1\n5,1\n").depths[0] == Approx(0.001));
}

TEST_CASE("Of a weather station's columns that of the rain is read, and a running one as such") {
  const GaugeRows snow = read("time_min,snow_depth_mm,rain_mm\n0,300,1\n5,300,2\n");
  CHECK(snow.depths == std::vector<double>{0.001, 0.002});
  CHECK(read("time_min,depth_of_water_mm,precip_mm\n0,300,1\n5,300,2\n").depths[0] == 0.001);
  CHECK_THROWS_WITH(read("time_min,snow_mm\n0,1\n5,1\n"), ContainsSubstring("no column of rain"));
  CHECK(read("time_min,cumulative_mm,depth_mm\n0,300,1\n5,301,2\n").depths[0] == 0.001);
  const GaugeRows event = read("Date,Rain Rate (in/hr),Event Rain (in),Daily Rain (in)\n"
                               "2024-05-17 14:00,1,0.5,0.6\n2024-05-17 14:05,1,0.6,0.7\n");
  CHECK(event.running_total);
  CHECK(event.depths[0] == Approx(0.5 * 0.0254));
  CHECK_FALSE(
      read("date,event rain (in),rain (in)\n2024-05-17 14:00,1,0.5\n2024-05-17 14:05,1,0.6\n").running_total);
  for (const char* name : {"total rain (mm)", "weekly_rain_mm", "monthly rain (in)", "daily rain (mm)"})
    CHECK(read("time_min," + std::string(name) + "\n0,1\n5,2\n").running_total);
  // One row a day: each has its day's own rain.
  CHECK_FALSE(read("date,daily_rain_mm\n2024-05-17,1\n2024-05-18,2\n2024-05-19,0\n").running_total);
  CHECK_FALSE(read("time_h,hourly rain (mm)\n0,1\n1,2\n").running_total);
  CHECK_THROWS_WITH(read("time_min,hourly rain (mm)\n0,1\n5,2\n"), ContainsSubstring("of the last hour"));
  CHECK_THROWS_WITH(read("time_min,rain_east_mm,rain_west_mm\n0,1,1\n5,2,2\n"),
                    ContainsSubstring("rain_west_mm") && ContainsSubstring("rain_east_mm"));
}
