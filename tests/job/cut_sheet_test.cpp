#include "catch.hpp"
#include "designs.hpp"

#include <lowspot/terrain/reshape.hpp>

using namespace lowspot;

TEST_CASE("stations are counted up from the outlet, every five feet and at each end") {
  const SimpleYard yard = level_yard();
  const job::CutSheet sheet = job::make_cut_sheet(yard.site, round_design(), yard.ground, 5 * foot);
  REQUIRE(sheet.runs.size() == 1);
  const job::CutRun& run = sheet.runs[0];
  REQUIRE(run.stations.size() == 21);
  for (std::size_t k = 0; k < run.stations.size(); ++k) {
    const job::CutStation& station = run.stations[k];
    CHECK_THAT(station.station, WithinAbs(5.0 * foot * static_cast<double>(k), 1e-9));
    CHECK_THAT(station.invert, WithinAbs((97.5 + 0.05 * static_cast<double>(k)) * foot, 1e-9));
    CHECK_THAT(station.bottom, WithinAbs(station.invert - 2 * inch, 1e-12));
    CHECK_THAT(station.cut(), WithinAbs(100 * foot - station.bottom, 1e-9));
  }
  CHECK(run.stations.front().note == "fence");
  CHECK(run.stations.back().note == "head");
  CHECK_THAT(run.least_fall, WithinAbs(0.01, 1e-12));
}

TEST_CASE("spoil and stone are those of the trench, worked by hand") {
  const SimpleYard yard = level_yard();
  const job::CutRun run = job::make_cut_sheet(yard.site, round_design(), yard.ground, 5 * foot).runs[0];
  // Mean cut: 100 - 98 + 1/6 ft; stone from the bottom to 4 in below the ground, less the pipe.
  const double mean_cut = (2 + 2.0 / 12) * foot;
  CHECK_THAT(run.spoil, WithinRel(mean_cut * foot * 100 * foot, 1e-9));
  const double pipe = M_PI / 4 * 4.6 * 4.6 * inch * inch;
  CHECK_THAT(run.stone, WithinRel(((mean_cut - 4 * inch) * foot - pipe) * 100 * foot, 1e-9));
}

TEST_CASE("a bend has a station of its own, and legs go on counting where the carrier ends") {
  const SimpleYard yard = level_yard();
  site::Design design = round_design();
  design.runs[0].path = {{10 * foot, 10 * foot},
                         {53 * foot, 10 * foot},
                         {(53 + 57 * 12 / 13.0) * foot, (10 + 57 * 5 / 13.0) * foot}};
  design.runs[0].inverts = {98.5 * foot, 97.5 * foot};
  design.runs[0].from = "tee";
  site::Run leg = design.runs[0];
  leg.name = "leg";
  leg.path = {{10 * foot, 3 * foot}, {10 * foot, 10 * foot}};
  leg.inverts = {98.7 * foot, 98.5 * foot};
  leg.from = "";
  leg.to = "tee";
  design.runs.insert(design.runs.begin(), leg);
  design.fittings = {{"tee", {10 * foot, 10 * foot}}};
  const job::CutSheet sheet = job::make_cut_sheet(yard.site, design, yard.ground, 5 * foot);
  REQUIRE(sheet.runs.size() == 2);
  CHECK(sheet.runs[0].name == "main");
  bool bend = false;
  for (const job::CutStation& station : sheet.runs[0].stations)
    if (station.note == "bend") {
      bend = true;
      CHECK_THAT(station.station, WithinAbs(57 * foot, 1e-9));
    }
  CHECK(bend);
  CHECK(sheet.runs[0].stations.back().note == "tee");
  CHECK_THAT(sheet.runs[1].stations.front().station, WithinAbs(100 * foot, 1e-9));
  CHECK_THAT(sheet.runs[1].stations.back().station, WithinAbs(107 * foot, 1e-9));
  CHECK_THAT(sheet.runs[1].stations[1].station, WithinAbs(105 * foot, 1e-9));
}

TEST_CASE("a point on a straight line is no bend, and has a station only where the fall changes there") {
  const SimpleYard yard = level_yard();
  site::Design design = round_design();
  design.runs[0].path = {{10 * foot, 10 * foot}, {53 * foot, 10 * foot}, {110 * foot, 10 * foot}};
  design.runs[0].inverts = {98.5 * foot, 97.5 * foot};
  const auto noted = [&] {
    std::string notes;
    const job::CutSheet sheet = job::make_cut_sheet(yard.site, design, yard.ground, 5 * foot);
    for (const job::CutStation& station : sheet.runs[0].stations)
      if (!station.note.empty())
        notes += station.note + " " + std::to_string(std::lround(station.station / foot)) + "; ";
    return notes;
  };
  CHECK(noted() == "fence 0; head 100; ");
  design.runs[0].inverts = {98.5 * foot, 98 * foot, 97.5 * foot}; // 0.5 ft in 43 ft, then in 57 ft
  CHECK(noted() == "fence 0; fall changes 57; head 100; ");
  // A degree of turn is 0.75 ft off in 43 ft.
  design.runs[0].path[0].y = 9.3 * foot;
  CHECK(noted() == "fence 0; fall changes 57; head 100; ");
  design.runs[0].path[0].y = 9.2 * foot;
  CHECK(noted() == "fence 0; bend 57; head 100; ");
  CHECK_FALSE(job::bends(design.runs[0].path, 0));
  CHECK_FALSE(job::bends(design.runs[0].path, 2));
}

TEST_CASE("a round station a hand from a bend is left out, one half a step on is kept") {
  const SimpleYard yard = level_yard();
  site::Design design = round_design();
  const auto station = [&](double bend, std::size_t k) { // ft up from the outlet
    design.runs[0].path = {
        {10 * foot, 10 * foot}, {(110 - bend) * foot, 10 * foot}, {(110 - bend) * foot, (10 + bend) * foot}};
    return job::make_cut_sheet(yard.site, design, yard.ground, 5 * foot).runs[0].stations.at(k).station /
           foot;
  };
  CHECK_THAT(station(20.1, 3), WithinAbs(15, 1e-9));
  CHECK_THAT(station(20.1, 4), WithinAbs(20.1, 1e-9));
  CHECK_THAT(station(20.1, 5), WithinAbs(25, 1e-9));
  CHECK_THAT(station(20.6, 4), WithinAbs(20, 1e-9));
  CHECK_THAT(station(20.6, 5), WithinAbs(20.6, 1e-9));
}

TEST_CASE("a carrier without a trench of its own has room for hands and lies on its wall") {
  SimpleYard yard = level_yard();
  site::Run run = round_design().runs[0];
  run.trench_width = 0;
  run.bedding = 0;
  CHECK_THAT(job::below_invert(run), WithinAbs(0.3 * inch, 1e-12));
  // 4.6 in of pipe and 6 in for hands, up to the bucket that digs it.
  CHECK_THAT(job::dug_width(yard.site, run), WithinAbs(11 * inch, 1e-12));
  run.pipe.outside_diameter = 5 * inch;
  CHECK_THAT(job::dug_width(yard.site, run), WithinAbs(11 * inch, 1e-9)); // whole already
  yard.site.units = "m";
  CHECK_THAT(job::dug_width(yard.site, run), WithinAbs(0.3, 1e-12));
  run.trench_width = 0.263; // as given
  CHECK_THAT(job::dug_width(yard.site, run), WithinAbs(0.263, 1e-12));
}

TEST_CASE("the spoil of a carrier is that of the width on its sheet") {
  const SimpleYard yard = level_yard();
  site::Design design = round_design();
  design.runs[0].trench_width = 0;
  design.runs[0].has_trench = false;
  const job::CutRun run = job::make_cut_sheet(yard.site, design, yard.ground, 5 * foot).runs[0];
  CHECK_THAT(run.width, WithinAbs(11 * inch, 1e-12));
  CHECK_THAT(run.spoil, WithinRel((2 + 2.0 / 12) * foot * 11 * inch * 100 * foot, 1e-9));
}

TEST_CASE("where the design shapes the ground, cuts are from the ground that it leaves, whichever ground is "
          "handed in") {
  const SimpleYard yard = level_yard();
  site::Design design = round_design();
  site::Regrade plane; // two inches off the whole yard
  plane.name = "plane";
  plane.kind = "plane";
  plane.outline = {{0, 0}, {120 * foot, 0}, {120 * foot, 20 * foot}, {0, 20 * foot}};
  const double level = 100 * foot - 2 * inch;
  plane.surface = {{0, 0, level}, {10, 0, level}, {0, 3, level}};
  design.regrades = {plane};
  const job::CutSheet sheet = job::make_cut_sheet(yard.site, design, yard.ground, 5 * foot);
  for (const job::CutStation& station : sheet.runs.at(0).stations) {
    CHECK_THAT(station.ground, WithinAbs(level, 1e-9));
    CHECK_THAT(station.cut(), WithinAbs(level - station.bottom, 1e-12));
  }
  CHECK(sheet.warnings.size() ==
        job::make_cut_sheet(yard.site, round_design(), yard.ground, 5 * foot).warnings.size() + 1);
  const terrain::Ground shaped = terrain::reshape(yard.site, yard.ground, design);
  CHECK(job::make_cut_sheet(yard.site, design, shaped, 5 * foot).runs[0].spoil == sheet.runs[0].spoil);
  const auto speaks_of_trench = [](const job::CutSheet& each) {
    return std::any_of(each.warnings.begin(), each.warnings.end(), [](const std::string& warning) {
      return warning.find("the trench is dug") != std::string::npos;
    });
  };
  CHECK(speaks_of_trench(sheet));
  for (const site::Run& run : design.runs) design.standing.push_back(run.name); // nothing is dug any more
  CHECK_FALSE(speaks_of_trench(job::make_cut_sheet(yard.site, design, yard.ground, 5 * foot)));
}

TEST_CASE("the deepest cut of a run is no less than that of any of its stations") {
  SimpleYard yard = level_yard();
  // Pipe that falls by a tenth on level ground is deepest at its foot, where no slice has its middle.
  site::Design design = round_design();
  for (std::size_t k = 0; k < design.runs[0].inverts.size(); ++k)
    design.runs[0].inverts[k] -= 0.1 * static_cast<double>(k);
  const job::CutRun run = job::make_cut_sheet(yard.site, design, yard.ground, 5 * foot).runs[0];
  double most = 0;
  for (const job::CutStation& station : run.stations) most = std::max(most, station.cut());
  CHECK_THAT(run.deepest, WithinRel(most, 1e-12));
}
