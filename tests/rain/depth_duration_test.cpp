#include "catch.hpp"

#include <cmath>

#include <lowspot/base/error.hpp>
#include <lowspot/rain/depth_duration.hpp>

#include "rain/sample_file.hpp"

using namespace lowspot;
using namespace lowspot::rain;
using sample::File;

namespace {
// The layout of the weather service's point file, with made-up figures.
std::string point_file(const std::string& units, const std::string& type, const std::string& header,
                       const std::string& rows) {
  return "Point precipitation frequency estimates (" + units +
         ")\r\nAtlas Volume 1 Version 1\r\nData type: " + "Precipitation " + type +
         "\r\nTime series type: Partial duration\r\nLocation name: Here, There, 5\r\n" +
         "Latitude: 40.0\r\n\r\n\r\nPRECIPITATION FREQUENCY ESTIMATES\r\n" + header + rows +
         "\r\nDate/time (GMT):  Mon Jan  1 00:00:00 2024\r\npyRunTime:  0.01\r\n";
}
const std::string years = "by duration for ARI (years):, 1,10,100\r\n";
DepthDuration read(const std::string& content, double period) {
  const File file(content);
  return read_depth_duration(file.path, period);
}
} // namespace

TEST_CASE("A plain table in inches, millimetres, minutes or hours") {
  const DepthDuration inches = read("# note\nduration_min,rp_2yr,rp_10yr\n5,0.4,0.6\n60,1.4,2.1\n", 10);
  REQUIRE(inches.duration.size() == 2);
  CHECK(inches.duration[1] == 3600);
  CHECK(inches.depth[1] == Approx(2.1 * 0.0254));
  const DepthDuration metric = read("duration_h,rp_2yr_mm,rp_10yr_mm\n1,36,50\n24,70,100\n", 2);
  CHECK(metric.duration[1] == 86400);
  CHECK(metric.depth[1] == Approx(0.070));
  // In between, the depth is straight in the logarithm of the period: the square root of 2 * 10 is half way.
  CHECK(read("duration_h,rp_2yr_mm,rp_10yr_mm\n1,36,50\n", std::sqrt(20.0)).depth[0] == Approx(0.043));
}

TEST_CASE("The point file of the weather service, by its labels") {
  const std::string rows = "5-min:, 0.30,0.50,0.80\r\n60-min:, 1.0,1.7,2.6\r\n2-hr:, 1.1,2.0,3.0\r\n"
                           "2-day:, 2.3,4.1,6.3\r\n";
  const DepthDuration curve = read(point_file("inches", "depth", years, rows), 10);
  REQUIRE(curve.duration == std::vector<double>{300, 3600, 7200, 172800});
  CHECK(curve.depth[1] == Approx(1.7 * 0.0254));
  CHECK(read(point_file("millimeters", "depth", years, rows), 10).depth[1] == Approx(1.7e-3));
  // As rates: 6 in/h for five minutes is half an inch.
  const DepthDuration rates =
      read(point_file("inches/hour", "intensity", years, "5-min:, 3,6,9\r\n60-min:, 1,1.7,2\r\n"), 10);
  CHECK(rates.depth[0] == Approx(0.5 * 0.0254));
  CHECK(rates.depth[1] == Approx(1.7 * 0.0254));
  // Of several tables, the first is the estimate.
  const std::string bound = "\r\nUPPER BOUND\r\n" + years + "5-min:, 9,9.5,9.8\r\n60-min:, 10,17,26\r\n";
  CHECK(read(point_file("inches", "depth", years, rows + bound), 10).depth[1] == Approx(1.7 * 0.0254));
}

TEST_CASE("Point files that would be misread are refused") {
  const std::string rows = "5-min:, 0.3,0.5,0.8\r\n";
  CHECK_THROWS_WITH(read(point_file("inches", "depth", "", rows), 10), ContainsSubstring("coverage"));
  CHECK_THROWS_WITH(read(point_file("inches", "depth", "by duration for AEP:, 1/2,1/10,1/100\r\n", rows), 10),
                    ContainsSubstring("1/2") && ContainsSubstring("partial-duration"));
  CHECK_THROWS_WITH(read(point_file("inches", "depth", years, "5-min:, 0.3,0.5\r\n"), 10),
                    ContainsSubstring("2 values"));
  CHECK_THROWS_WITH(read(point_file("inches", "depth", years, rows), 500),
                    ContainsSubstring("between 1 and 100"));
  CHECK_THROWS_AS(read(point_file("inches", "depth", years, "5-min:, nan,nan,nan\r\n"), 10), InputError);
}

TEST_CASE("Plain tables that cannot be right are refused") {
  CHECK_THROWS_WITH(read("duration_min,rp_2yr\n5,0.4\n60,0.3\n", 2),
                    ContainsSubstring(":3") && ContainsSubstring("does not rise"));
  CHECK_THROWS_WITH(read("duration_min,rp_2yr\n60,0.4\n5,0.5\n", 2), ContainsSubstring("does not rise"));
  CHECK_THROWS_WITH(read("duration,rp_2yr\n5,0.4\n", 2), ContainsSubstring("without a unit"));
  CHECK_THROWS_WITH(read("minutes,rp_2yr\n5,0.4\n", 2), ContainsSubstring("duration"));
  CHECK_THROWS_WITH(read("duration_min,rp_10yr,rp_2yr\n5,0.6,0.4\n", 5),
                    ContainsSubstring(":1") && ContainsSubstring("sort"));
  CHECK_THROWS_AS(read("duration_min,rp_2yr\n5,0\n", 2), InputError);
  for (const char* header : {"50%,20%,10%", "aep_1,aep_2,aep_10", "1/2,1/5,1/10"})
    CHECK_THROWS_WITH(read("duration_min," + std::string(header) + "\n5,0.4,0.5,0.6\n", 2),
                      ContainsSubstring("a probability of each year") && ContainsSubstring("50 % is rp_2yr"));
  CHECK_THROWS_WITH(read("duration_min,2yr,2yr_in,10yr\n5,0.3,0.4,0.6\n", 2),
                    ContainsSubstring(":1") && ContainsSubstring("two columns of 2 years"));
  CHECK_THROWS_WITH(read("duration_min,rp_2yr,rp_10yr\n5,0.4,0.6\n60,2,1.9\n", 2),
                    ContainsSubstring(":3") && ContainsSubstring("falls as the return period rises"));
}

TEST_CASE("The bounds of an estimate are no estimate") {
  const std::string table =
      "duration_min,2yr_lower,2yr,2yr_upper,10yr_lower,10yr,10yr_upper\n5,.3,.4,.5,.5,.6,.7\n";
  CHECK(read(table, 2).depth[0] == Approx(0.4 * 0.0254));
  CHECK(read(table, 10).depth[0] == Approx(0.6 * 0.0254));
  CHECK_THROWS_AS(read_depth_duration("no_such_file.csv", 2), InputError);
}

TEST_CASE("The example of the catalogue is a table of this kind") {
  const DepthDuration curve =
      read_depth_duration(LOWSPOT_SOURCE_DATA "/catalog/depth_duration_example.csv", 10);
  CHECK(curve.at(3600) == Approx(2.14 * 0.0254));
  CHECK(curve.at(86400) == Approx(4.09 * 0.0254));
}

TEST_CASE("The return periods a table has columns for") {
  const File plain("# note\nduration_min,rp_2yr,rp_10yr\n5,0.4,0.6\n60,1.4,2.1\n");
  CHECK(return_periods(plain.path) == std::vector<double>{2, 10});
  const File empty("duration_min,rp_2yr\n");
  CHECK_THROWS_AS(return_periods(empty.path), InputError);
}

TEST_CASE("Rates are not taken for depths") {
  // Of a single duration nothing else would show it: 3 in/hr over 30 minutes are 1.5 in.
  for (const char* header : {"2yr_in_hr", "rp_2yr_mm_per_h", "intensity_2yr", "2yr rate (in)"})
    CHECK_THROWS_WITH(read("duration_min," + std::string(header) + "\n30,3\n", 2),
                      ContainsSubstring(":1") && ContainsSubstring("a rate of rain"));
  CHECK(read("duration_min,rp_2yr_mm\n30,3\n", 2).depth[0] == Approx(0.003));
}

TEST_CASE("A return period beyond the table is told where it was asked for") {
  const File file("# note\nduration_min,rp_2yr,rp_10yr\n5,0.4,0.6\n");
  const auto problem = [&](const std::filesystem::path& path, const Where& asked) {
    try {
      read_depth_duration(path, 500, asked);
    } catch (const InputError& error) {
      return error;
    }
    return InputError({}, "", "", "");
  };
  const InputError asked = problem(file.path, {"site.toml", 13, "storm.return_period"});
  CHECK(asked.where.file == "site.toml");
  CHECK(asked.where.line == 13);
  CHECK(asked.where.key == "storm.return_period");
  CHECK(asked.found == "500 years");
  CHECK(asked.expected == "between 2 and 10 years, as the table " + file.path.string() + " has");
  const InputError by_itself = problem(file.path, {"", 0, "return_period"});
  CHECK(by_itself.where.file == file.path.string());
  CHECK(by_itself.where.line == 2);
  const File single("duration_min,rp_2yr\n5,0.4\n");
  CHECK_THAT(problem(single.path, {"site.toml", 13, ""}).expected,
             ContainsSubstring("2 years, as the table"));
}
