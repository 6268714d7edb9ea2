#include "catch.hpp"
#include "designs.hpp"

#include <lowspot/base/error.hpp>
#include <lowspot/drain/pipe_section.hpp>
#include <lowspot/job/dug.hpp>

using namespace lowspot;

namespace {
job::CutSheet round_sheet() {
  const SimpleYard yard = level_yard();
  return job::make_cut_sheet(yard.site, round_design(), yard.ground, 5 * foot);
}
const job::DugUnits feet{foot, foot, 104 * foot};

std::string problem_of(const std::string& text) {
  try {
    job::read_dug(parse_csv(text, "dug.csv"), round_sheet(), feet);
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}
} // namespace

TEST_CASE("readings in the trench become elevations of its bottom") {
  const auto readings = job::read_dug(
      parse_csv("station,reading,on\n0+00,6' 8\",bottom\n0+30,6.2,invert\n50,6.0,pipe\n", "dug.csv"),
      round_sheet(), feet);
  REQUIRE(readings.size() == 3);
  CHECK(readings[0].run == "main");
  CHECK_THAT(readings[0].bottom, WithinAbs((104 - 6 - 8.0 / 12) * foot, 1e-9));
  CHECK_THAT(readings[1].bottom, WithinAbs((104 - 6.2) * foot - 2 * inch, 1e-9));
  CHECK_THAT(readings[2].bottom, WithinAbs((104 - 6.0) * foot - (2 + 4.3) * inch, 1e-9));
}

TEST_CASE("a station within the tolerance is accepted, one too high or too low is not") {
  const job::CutSheet sheet = round_sheet();
  const auto wanted = [&](double station_feet) { return (97.5 + 0.01 * station_feet) * foot - 2 * inch; };
  const std::vector<job::DugReading> readings = {{"main", 10 * foot, wanted(10) + 0.25 * inch, 2},
                                                 {"main", 30 * foot, wanted(30) + 0.375 * inch, 3},
                                                 {"main", 62 * foot, wanted(62) - 0.5 * inch, 4}};
  const auto checks = job::check_dug(readings, sheet, 0.25 * inch);
  REQUIRE(checks.size() == 3);
  CHECK(checks[0].answer == job::DugAnswer::accept);
  CHECK(checks[1].answer == job::DugAnswer::dig_more);
  CHECK_THAT(checks[1].too_high, WithinAbs(0.375 * inch, 1e-9));
  CHECK(checks[2].answer == job::DugAnswer::fill);
}

TEST_CASE("a trench dug as designed gives the design back") {
  const job::CutSheet sheet = round_sheet();
  std::vector<job::DugReading> readings;
  for (const job::CutStation& station : sheet.runs[0].stations)
    readings.push_back({"main", station.station, station.bottom, 1});
  const job::AsDug dug = job::lay_as_dug(round_design(), sheet, readings);
  CHECK(dug.bellies.empty());
  CHECK(dug.design.as_dug);
  const site::Run& run = dug.design.runs[0];
  for (std::size_t k = 0; k < run.path.size(); ++k)
    CHECK_THAT(run.inverts[k], WithinAbs(98.5 * foot - 0.01 * (run.path[k].x - 10 * foot), 1e-9));
}

// The pipe falls 1 % from x = 0 (head) to the outlet; a hump of height H at one station, straight to its
// neighbours, holds water above it: depth at the foot of the hump's upper side is what the hump rises over
// it.
TEST_CASE("a hump makes a belly as deep as it rises above the pipe behind it") {
  const job::CutSheet sheet = round_sheet();
  const auto bottom = [&](double station_feet) { return (97.5 + 0.01 * station_feet) * foot - 2 * inch; };
  const double hump = 2 * inch;
  const std::vector<job::DugReading> readings = {{"main", 30 * foot, bottom(30), 2},
                                                 {"main", 40 * foot, bottom(40) + hump, 3},
                                                 {"main", 50 * foot, bottom(50), 4}};
  const job::AsDug dug = job::lay_as_dug(round_design(), sheet, readings);
  REQUIRE(dug.bellies.size() == 1);
  // Invert at 0+50 is 0.1 ft above that at 0+40: the water there is hump - 0.1 ft deep.
  const double deepest = hump - 0.1 * foot;
  CHECK_THAT(dug.bellies[0].depth, WithinAbs(deepest, 1e-3));
  // Level water on two straight slopes: a triangle in profile, from 0+40 to where the pipe rises out of it.
  CHECK_THAT(dug.bellies[0].from, WithinAbs(40 * foot, 0.1));
  CHECK_THAT(dug.bellies[0].to, WithinAbs(50 * foot + deepest / 0.01, 0.1));
  double volume = 0;
  const int pieces = 2000;
  for (const double side : {10 * foot, deepest / 0.01})
    for (int k = 0; k < pieces; ++k)
      volume += drain::wetted_area(4 * inch, deepest * (k + 0.5) / pieces) * side / pieces;
  CHECK_THAT(dug.bellies[0].volume, WithinRel(volume, 0.02));
}

namespace {
// A feeder of 50 ft that falls 0.5 % into a tee, and a carrier of 50 ft from there to the fence.
site::Design feeder_and_carrier() {
  site::Design design = round_design();
  site::Run carrier = design.runs[0], feeder = carrier;
  feeder.name = "feeder";
  feeder.path = {{10 * foot, 10 * foot}, {60 * foot, 10 * foot}};
  feeder.inverts = {98.25 * foot, 98 * foot};
  feeder.to = "tee";
  carrier.name = "carrier";
  carrier.path = {{60 * foot, 10 * foot}, {110 * foot, 10 * foot}};
  carrier.inverts = {98 * foot, 97.5 * foot};
  carrier.from = "tee";
  design.runs = {feeder, carrier};
  design.fittings = {{"tee", {60 * foot, 10 * foot}}};
  return design;
}
job::AsDug dug_with(const site::Design& design, const std::string& run, double station, double too_high) {
  const SimpleYard yard = level_yard();
  const job::CutSheet sheet = job::make_cut_sheet(yard.site, design, yard.ground, 5 * foot);
  std::vector<job::DugReading> readings;
  for (const job::CutRun& cut : sheet.runs)
    for (const job::CutStation& each : cut.stations) {
      const bool off = cut.name == run && std::abs(each.station - station) < 1e-6;
      readings.push_back({cut.name, each.station, each.bottom + (off ? too_high : 0), 1});
    }
  return job::lay_as_dug(design, sheet, readings);
}
} // namespace

TEST_CASE("a carrier that begins too high holds water in what feeds it") {
  const job::AsDug dug = dug_with(feeder_and_carrier(), "carrier", 50 * foot, inch);
  REQUIRE(dug.bellies.size() == 1);
  CHECK(dug.bellies[0].run == "feeder");
  CHECK_THAT(dug.bellies[0].depth, WithinAbs(inch, 1e-6));
  CHECK_THAT(dug.bellies[0].from, WithinAbs(50 * foot, 1e-6));
  CHECK_THAT(dug.bellies[0].to, WithinAbs((50 + 1 / 12.0 / 0.005) * foot, 0.06)); // 17 ft up
  for (const job::Belly& belly : dug_with(feeder_and_carrier(), "carrier", 50 * foot, -inch).bellies)
    CHECK(belly.run == "carrier"); // what is low there holds water, but not in the feeder
  CHECK(dug_with(feeder_and_carrier(), "feeder", 50 * foot, 0).bellies.empty());
  const job::AsDug low = dug_with(feeder_and_carrier(), "feeder", 50 * foot, -inch);
  REQUIRE(low.bellies.size() == 1); // the foot of the feeder, dug an inch too low
  CHECK_THAT(low.bellies[0].depth, WithinAbs(inch, 1e-6));
}

TEST_CASE("a hump far down holds water beyond fittings, unless another way out lies lower") {
  site::Design design = feeder_and_carrier();
  // Half way down the carrier 4 in rise over the pipe by 1 in more than the pipe falls from the tee.
  CHECK(dug_with(design, "carrier", 25 * foot, 4 * inch).bellies.size() == 2);
  site::Run relief = design.runs[1];
  relief.name = "relief";
  relief.path = {{60 * foot, 10 * foot}, {60 * foot, 0}};
  relief.inverts = {98 * foot, 97.5 * foot};
  relief.to = "side";
  design.runs.push_back(relief);
  design.outlets.push_back(daylight_outlet("side", {60 * foot, 0}));
  for (const job::Belly& belly : dug_with(design, "carrier", 25 * foot, 4 * inch).bellies)
    CHECK(belly.run == "carrier");
}

TEST_CASE("what cannot be read says where and why") {
  CHECK_THAT(problem_of("station,depth\n0+00,2\n"), ContainsSubstring("reading"));
  CHECK_THAT(problem_of("station,reading\nhere,2\n"), ContainsSubstring("0+30"));
  CHECK_THAT(problem_of("station,reading\n3+00,2\n"), ContainsSubstring("a station of this design"));
  CHECK_THAT(problem_of("station,reading,run\n0+10,2,mian\n"), ContainsSubstring("\"main\""));
  CHECK_THAT(problem_of("station,reading,on\n0+10,2,roof\n"), ContainsSubstring("bottom"));
  CHECK_THAT(problem_of("station,reading\n0+10,6.5\n0+10,6.6\n"), ContainsSubstring("line 2"));
  CHECK_THAT(problem_of("station,reading\n0+10,two\n"), ContainsSubstring("rod reading"));
}

TEST_CASE("a reading in another unit than its table is refused with its line and how to write it") {
  // The bottom at 0+30 is read as 6.37 ft, or 76 3/8 in.
  CHECK(problem_of("station,reading\n0+30,6.37\n").empty());
  CHECK_THAT(problem_of("station,reading\n0+00,6.67\n0+30,76.4\n"),
             ContainsSubstring("dug.csv") && ContainsSubstring("3") && ContainsSubstring("\"76.4\"") &&
                 ContainsSubstring("below the bottom wanted at 0+30") && ContainsSubstring("in feet (7.40)"));
  CHECK_THAT(problem_of("station,elevation\n0+30,29.8\n"), ContainsSubstring("write elevations in feet"));
  // A foot above the ground, which is what the trench is deep and a foot more, may still be a heap of spoil.
  CHECK(problem_of("station,elevation\n0+30,100.9\n").empty());
  CHECK_THAT(problem_of("station,elevation\n0+30,101.1\n"), ContainsSubstring("above the bottom wanted"));
}

TEST_CASE("what two readings of a rod differ by is no belly, nor is a spot without length") {
  const double eighth = inch / 8;
  CHECK(dug_with(feeder_and_carrier(), "feeder", 50 * foot, -eighth).bellies.empty());
  site::Design steep = feeder_and_carrier(); // rises out of a quarter of an inch of water at once
  steep.runs[0].path.front().x = 58 * foot;
  steep.runs[0].inverts = {99.4 * foot, 98 * foot};
  CHECK(dug_with(steep, "carrier", 50 * foot, 2 * eighth).bellies.empty());
}

TEST_CASE("a station in metres that may be feet is answered with how to write it") {
  const job::DugUnits metres{1, 1, 104 * foot};
  const auto read = [&](const std::string& station) {
    return job::read_dug(parse_csv("station,reading\n" + station + ",2\n", "dug.csv"), round_sheet(), metres);
  };
  CHECK_THAT(read("0+030").at(0).station, WithinAbs(30, 1e-9));
  CHECK_THROWS_WITH(read("0+30"), ContainsSubstring("30 m or 0+030") && ContainsSubstring("three digits"));
}

// Stations are printed to a tenth of a foot, and typed as they are printed.
TEST_CASE("a reading belongs to the station that is printed as what was typed") {
  const SimpleYard yard = level_yard();
  site::Design design = round_design();
  design.runs[0].path = {{67.43 * foot, 10 * foot}, {92.57 * foot, 10 * foot}, {110 * foot, 10 * foot}};
  design.runs[0].inverts = {98.2 * foot, 97.8 * foot, 97.5 * foot};
  const job::CutSheet sheet = job::make_cut_sheet(yard.site, design, yard.ground, 5 * foot);
  const auto readings = job::read_dug(
      parse_csv("station,elevation\n0+17.4,97.7\n0+42.6,98.2\n0+21.3,98\n", "dug.csv"), sheet, feet);
  REQUIRE(readings.size() == 3);
  CHECK_THAT(readings[0].station, WithinAbs(17.43 * foot, 1e-9)); // the bend
  CHECK_THAT(readings[1].station, WithinAbs(42.57 * foot, 1e-9)); // the head
  CHECK_THAT(readings[2].station, WithinAbs(21.3 * foot, 1e-9));  // between two of the sheet
  // A lone reading at the head counts.
  const std::vector<job::DugReading> head = {readings[1]};
  const job::CutRun& run = sheet.runs[0];
  const double wanted = run.stations.back().invert;
  const job::AsDug dug = job::lay_as_dug(design, sheet, head);
  CHECK_THAT(dug.design.runs[0].inverts.front() - wanted,
             WithinAbs(readings[1].bottom - run.stations.back().bottom, 1e-6));
  CHECK(std::abs(dug.design.runs[0].inverts.front() - wanted) > 0.01);
}
