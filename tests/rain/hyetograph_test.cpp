#include "catch.hpp"
#include "figures.hpp"

#include <cmath>
#include <limits>

#include <lowspot/base/error.hpp>
#include <lowspot/rain/depth_duration.hpp>
#include <lowspot/rain/hyetograph.hpp>

#include "rain/sample_file.hpp"

using namespace lowspot;
using namespace lowspot::rain;
using sample::File;

namespace {
site::Site storm(const std::string& pattern, double depth = 0.06, double duration = 6 * 3600) {
  site::Site site;
  site.file = "site.toml";
  site.storm.pattern = pattern;
  site.storm.depth = depth;
  site.storm.duration = duration;
  site.storm.line = 7;
  return site;
}
bool warned(const Hyetograph& rain, const std::string& piece) {
  for (const std::string& warning : rain.warnings)
    if (warning.find(piece) != std::string::npos) return true;
  return false;
}
} // namespace

TEST_CASE("Every pattern carries the depth asked for") {
  for (const char* pattern : {"uniform", "nested", "nrcs-i", "nrcs-ia", "nrcs-ii", "nrcs-iii"}) {
    const bool nrcs = std::string(pattern).starts_with("nrcs");
    INFO(pattern);
    const Hyetograph rain = make_hyetograph(storm(pattern, 0.06, nrcs ? 86400 : 6 * 3600));
    CHECK(rain.depth() == Approx(0.06).epsilon(1e-12));
    figures::record("rain", "six patterns, 60 mm", "depth of the storm, mm", 60, rain.depth() * 1e3,
                    figures::share(1e-12));
    CHECK(rain.end_of_rain() == Approx(nrcs ? 86400 : 6 * 3600));
    CHECK(rain.time.size() == rain.intensity.size() + 1);
    CHECK(rain.warnings.empty());
  }
  CHECK(make_hyetograph(storm("uniform")).peak_intensity() == Approx(0.06 / 21600));
  // Type II: 0.1371 of the day's depth in the six minutes before 11.9 h.
  CHECK(make_hyetograph(storm("nrcs-ii", 0.06, 86400)).peak_intensity() == Approx(0.06 * 0.1371 / 360));
  CHECK(warned(make_hyetograph(storm("nrcs-ii")), "24 hours"));
  CHECK(make_hyetograph(storm("nested", 0)).depth() == 0);
}

TEST_CASE("What is not given is assumed and said") {
  const Hyetograph rain = make_hyetograph(storm("nested", site::not_given, site::not_given));
  CHECK(rain.depth() == Approx(2 * 0.0254));
  CHECK(rain.end_of_rain() == Approx(6 * 3600.0));
  CHECK(warned(rain, "no depth given"));
  const Hyetograph day = make_hyetograph(storm("nrcs-ii", 0.06, site::not_given));
  CHECK(day.end_of_rain() == Approx(86400));
  CHECK(day.warnings.empty());
}

TEST_CASE("Blocks hold at their times; a block cut in two is the same rain") {
  site::Site whole = storm("blocks"), cut = whole;
  whole.storm.blocks = {{1800, 1e-5}, {600, 0}, {600, 2e-5}};
  cut.storm.blocks = {{600, 1e-5}, {1200, 1e-5}, {600, 0}, {300, 2e-5}, {300, 2e-5}};
  const Hyetograph one = make_hyetograph(whole), two = make_hyetograph(cut);
  CHECK(one.depth() == Approx(1800e-5 + 600 * 2e-5).epsilon(1e-14));
  CHECK(two.depth() == Approx(one.depth()).epsilon(1e-14));
  for (double t = -50; t < 3200; t += 50) {
    CHECK(one.at(t) == two.at(t));
    CHECK(one.next_change(t) == two.next_change(t));
  }
  CHECK(one.at(1799.9) == 1e-5);
  CHECK(one.at(1800) == 0);
  CHECK(one.at(3000) == 0);
  CHECK(one.next_change(-1) == 0);
  CHECK(one.next_change(0) == 1800);
  CHECK(one.next_change(1800) == 2400);
  CHECK(one.next_change(3000) == std::numeric_limits<double>::infinity());
  CHECK(two.end_of_rain() == 3000);
}

TEST_CASE("Later storms begin after the end of what came before") {
  site::Site site = storm("uniform", 0.03, 3600);
  site.storm.then = {{7200, 0.01, 1800, "uniform"}, {3600, 0.02, 3600, "nested"}};
  const Hyetograph rain = make_hyetograph(site);
  CHECK(rain.depth() == Approx(0.06).epsilon(1e-12));
  CHECK(rain.at(3600 + 7199) == 0);
  CHECK(rain.at(3600 + 7200) == Approx(0.01 / 1800));
  CHECK(rain.end_of_rain() == Approx(3600 + 7200 + 1800 + 3600 + 3600));
  CHECK(rain.next_change(3600) == 10800);
}

TEST_CASE("A nested storm from a table has the table's depth for its duration") {
  const File file("duration_min,rp_2yr,rp_10yr\n5,0.46,0.63\n15,0.88,1.20\n60,1.44,2.14\n360,2.15,3.21\n");
  site::Site site = storm("nested", site::not_given);
  site.folder = file.folder;
  site.storm.table = "table.csv";
  site.storm.return_period = 10;
  const Hyetograph rain = make_hyetograph(site);
  CHECK(rain.depth() == Approx(3.21 * 0.0254).epsilon(1e-12));
  CHECK(rain.peak_intensity() == Approx(0.63 * 0.0254 / 300));
  figures::record("rain", "nested storm from a table, 10 years, 6 h", "depth, in", 3.21,
                  rain.depth() / 0.0254, figures::share(1e-12));
  figures::record("rain", "nested storm from a table, 10 years, 6 h", "heaviest 5 min, in", 0.63,
                  rain.peak_intensity() * 300 / 0.0254, figures::share(1e-5));
  CHECK(rain.warnings.empty());
  site.storm.duration = 3600;
  CHECK(make_hyetograph(site).depth() == Approx(2.14 * 0.0254).epsilon(1e-12));
  site.storm.pattern = "uniform";
  CHECK(make_hyetograph(site).peak_intensity() == Approx(2.14 * 0.0254 / 3600));
  site.storm.duration = 12 * 3600;
  CHECK(warned(make_hyetograph(site), "ends at 6 hours"));
  site.storm.return_period = 500;
  site.storm.return_period_line = 9;
  CHECK_THROWS_WITH(make_hyetograph(site),
                    ContainsSubstring("site.toml:9: storm.return_period") && ContainsSubstring("table.csv"));
  site.storm.return_period = site::not_given;
  CHECK_THROWS_WITH(make_hyetograph(site), ContainsSubstring("site.toml:7") && ContainsSubstring("10 yr"));
}

TEST_CASE("A gauge's record, and its absence") {
  const File file("time_min,rain_mm\n0,1\n5,3\n", "rain.csv");
  site::Site site = storm("gauge");
  site.folder = file.folder;
  CHECK_THROWS_WITH(make_hyetograph(site), ContainsSubstring("site.toml:7") && ContainsSubstring("no gauge"));
  site.storm.gauge = "rain.csv";
  CHECK(make_hyetograph(site).depth() == Approx(0.004));
}

TEST_CASE("An unknown pattern is refused with the nearest known one") {
  CHECK_THROWS_WITH(make_hyetograph(storm("nestd")),
                    ContainsSubstring("site.toml:7") && ContainsSubstring("did you mean 'nested'"));
  CHECK_THROWS_AS(make_hyetograph(storm("nrcs-iv")), InputError);
  CHECK_THROWS_AS(make_hyetograph(storm("nestd", 0)), InputError);
}

TEST_CASE("Rain and dry time of more than three years are refused") {
  site::Site site;
  site.storm.pattern = "blocks";
  site.storm.blocks = {{8e7, 1e-9}, {8e7, 1e-9}};
  CHECK_THROWS_WITH(make_hyetograph(site), ContainsSubstring("three years"));
}

TEST_CASE("A table of one duration takes the usual shape, and says so") {
  const File file("duration_min,rp_10yr\n60,2\n");
  site::Site site = storm("nested", site::not_given);
  site.folder = file.folder;
  site.storm.table = "table.csv";
  site.storm.return_period = 10;
  for (const auto& [hours, inches] : {std::pair{1.0, 2.0}, {2.0, 2 * 1.17}, {24.0, 2 * 1.91}}) {
    site.storm.duration = hours * 3600;
    const Hyetograph rain = make_hyetograph(site);
    CHECK(rain.depth() == Approx(inches * 0.0254).epsilon(1e-12));
    CHECK(rain.peak_intensity() == Approx(0.29 * 2 * 0.0254 / 300));
    CHECK(warned(rain, "the table has the depth of"));
  }
}

TEST_CASE("A table in another unit than its heading says is pointed at") {
  const File table("duration_min,rp_10yr\n5,14\n60,42\n360,76\n"); // millimetres, and no heading says so
  site::Site site = storm("nested", site::not_given);
  site.folder = table.folder;
  site.storm.table = "table.csv";
  site.storm.return_period = 10;
  CHECK(warned(make_hyetograph(site), "hardest rain ever measured"));
  const File good("duration_min,rp_10yr_mm\n5,14\n60,42\n360,76\n");
  CHECK(make_hyetograph(site).warnings.empty());
}

TEST_CASE("A depth beside a table holds: the table gives the shape") {
  const File file("duration_min,rp_10yr\n5,0.63\n15,1.20\n60,2.14\n360,3.21\n");
  site::Site site = storm("nested", 1.0 * 0.0254, 3600);
  site.folder = file.folder;
  site.storm.table = "table.csv";
  site.storm.return_period = 10;
  const Hyetograph rain = make_hyetograph(site);
  CHECK(rain.depth() == Approx(1.0 * 0.0254).epsilon(1e-12));
  CHECK(rain.peak_intensity() == Approx(0.63 / 2.14 * 0.0254 / 300));
  for (const char* pattern : {"uniform", "nrcs-ii"}) {
    site.storm.pattern = pattern;
    CHECK(make_hyetograph(site).depth() == Approx(1.0 * 0.0254).epsilon(1e-12));
  }
  site.storm.pattern = "nested";
  site.storm.depth = 0;
  CHECK(make_hyetograph(site).depth() == 0);
}

TEST_CASE("A table without short durations keeps the burst of usual storms, and says so") {
  const File file("duration_min,rp_10yr\n60,2.14\n120,2.60\n360,3.21\n");
  site::Site site = storm("nested", site::not_given);
  site.folder = file.folder;
  site.storm.table = "table.csv";
  site.storm.return_period = 10;
  const Hyetograph rain = make_hyetograph(site);
  CHECK(rain.depth() == Approx(3.21 * 0.0254).epsilon(1e-12));
  CHECK(rain.peak_intensity() * 300 / 0.0254 == Approx(0.29 * 2.14));
  CHECK(warned(rain, "the table begins at 60 min"));
  CHECK(warned(rain, "(0.621 in) in 5 min"));
  site.storm.depth = 3.21 / 2 * 0.0254;
  CHECK(warned(make_hyetograph(site), "(0.31 in) in 5 min"));
  site.storm.pattern = "uniform"; // has no bursts
  CHECK(make_hyetograph(site).warnings.empty());
  site.storm.depth = site::not_given;
  site.storm.duration = 1800;
  const Hyetograph half = make_hyetograph(site);
  CHECK(half.depth() == Approx(0.79 * 2.14 * 0.0254));
  CHECK(warned(half, "begins at 60 min"));
}

TEST_CASE("a day of an NRCS storm ends its parts at the minutes of its table, not a hair beside them") {
  for (const char* pattern : {"nrcs-i", "nrcs-ia", "nrcs-ii", "nrcs-iii"}) {
    const Hyetograph rain = make_hyetograph(storm(pattern, 0.06, 86400));
    for (const double time : rain.time) CHECK(time == std::round(time * 10) / 10);
  }
}
