#include <lowspot/site/files.hpp>

#include "sample.hpp"

using namespace lowspot;
using namespace lowspot::site;
using sample::Folder;

namespace {
TimeSeries series_of(const std::string& content) {
  const Folder folder;
  folder.write("flow.csv", content);
  return read_time_series(folder.path / "flow.csv", "flow", Dimension::flow);
}
} // namespace

TEST_CASE("units stand in the cells") {
  const TimeSeries series = series_of("time,flow\n0 min,0 gal/min\n10 min,2 gal/min\n");
  REQUIRE(series.time.size() == 2);
  CHECK(series.time[1] == 600);
  CHECK(series.value[1] == Approx(2 * 3.785411784e-3 / 60));
  CHECK_FALSE(series.units_assumed);
}

TEST_CASE("units stand in the headings, in any dress") {
  for (const char* heading : {"time_s,flow_m3_per_s", "time [s],flow [m3/s]", "time (s),flow (m3/s)"}) {
    const TimeSeries series = series_of(std::string(heading) + "\n0,0.001\n60,0.002\n");
    CHECK(series.time.at(1) == 60);
    CHECK(series.value.at(1) == Approx(0.002));
    CHECK_FALSE(series.units_assumed);
  }
  CHECK(series_of("time_min,flow_m3_per_s\n1,0\n").time.at(0) == 60);
}

TEST_CASE("bare numbers are SI, and that is said") {
  const TimeSeries series = series_of("time,flow\n0,0.001\n60,2e-3\n");
  CHECK(series.value.at(1) == Approx(0.002));
  CHECK(series.units_assumed);
}

TEST_CASE("rows that cannot be used are named") {
  CHECK_THROWS_WITH(series_of("time,flow\n60,0\n0,0\n"),
                    ContainsSubstring("flow.csv:3") && ContainsSubstring("later"));
  CHECK_THROWS_WITH(series_of("time,flow\n0,-1\n"), ContainsSubstring("zero or more"));
  CHECK_THROWS_WITH(series_of("time,flow\n0,much\n"), ContainsSubstring("\"much\""));
  CHECK_THROWS_WITH(series_of("time,rain\n0,1\n"), ContainsSubstring("a column `flow`"));
  CHECK_THROWS_WITH(series_of("time,flow_furlongs\n0,1\n"), ContainsSubstring("furlongs"));
}

TEST_CASE("a file that is named must be there, and be a file") {
  const Folder folder;
  folder.write("rain.csv", "x");
  sample::Fixture f("a = \"rain.csv\"\nb = \"rian.csv\"\nc = \"/vsizip/x.zip/y.tif\"");
  f.site.folder = folder.path;
  CHECK(file_named(f.reader, "a") == "rain.csv");
  CHECK_THROWS_WITH(file_named(f.reader, "b"), ContainsSubstring("Did you mean \"rain.csv\"?"));
  CHECK_THROWS_WITH(file_named(f.reader, "c"), ContainsSubstring("no file"));
}

TEST_CASE("a table that is over within minutes since its times are bare is pointed at") {
  const auto warnings = [](const std::string& times) {
    const Folder folder;
    folder.write("levels.csv", "x,y,elevation\n0,0,100\n60,0,100\n60,40,100\n0,40,100\n");
    folder.write("spring.csv", times);
    return sample::read(
        sample::yard("[[edges.inflow]]\nalong = [[0, 40], [10, 40]]\nflow = \"spring.csv\"\n"), folder);
  };
  CHECK(sample::warned(warnings("time,flow\n0,0\n6,1e-4\n24,0\n"), "24 s"));
  CHECK_FALSE(sample::warned(warnings("time,flow\n0,0\n3600,1e-4\n7200,0\n"), "spring.csv"));
  CHECK_FALSE(sample::warned(warnings("time_s,flow\n0,0\n6,1e-4\n24,0\n"), "24 s"));
}

TEST_CASE("a table of bare times that is over before the rain is pointed at") {
  const sample::Folder folder;
  folder.write("bare.csv", "time,flow\n0,0 gpm\n1440,2 gpm\n");
  folder.write("said.csv", "time_s,flow\n0,0 gpm\n1440,2 gpm\n");
  const auto with = [&](const std::string& file, const std::string& duration) {
    return sample::read(
        sample::yard("[storm]\ndepth = \"1 in\"\nduration = \"" + duration +
                     "\"\npattern = \"uniform\"\n[[edges.inflow]]\nalong = [[0, 40], [30, 40]]\nflow = \"" +
                     file + "\"\n"),
        folder);
  };
  CHECK(sample::warned(with("bare.csv", "6 hr"),
                       "edges.inflow[1].flow: its table is over after 1440 s, before the rain is"));
  CHECK_FALSE(sample::warned(with("bare.csv", "20 min"), "is over after"));
  CHECK_FALSE(sample::warned(with("said.csv", "6 hr"), "is over after"));
}
