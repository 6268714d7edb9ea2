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

TEST_CASE("what cannot be read says where and why") {
  CHECK_THAT(problem_of("station,depth\n0+00,2\n"), ContainsSubstring("reading"));
  CHECK_THAT(problem_of("station,reading\nhere,2\n"), ContainsSubstring("0+30"));
  CHECK_THAT(problem_of("station,reading\n3+00,2\n"), ContainsSubstring("a station of this design"));
  CHECK_THAT(problem_of("station,reading,run\n0+10,2,mian\n"), ContainsSubstring("\"main\""));
  CHECK_THAT(problem_of("station,reading,on\n0+10,2,roof\n"), ContainsSubstring("bottom"));
  CHECK_THAT(problem_of("station,reading\n0+10,2\n0+10,3\n"), ContainsSubstring("line 2"));
  CHECK_THAT(problem_of("station,reading\n0+10,two\n"), ContainsSubstring("rod reading"));
}
