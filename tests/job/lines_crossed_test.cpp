#include "catch.hpp"
#include "designs.hpp"

#include <lowspot/job/lines_crossed.hpp>

using namespace lowspot;

TEST_CASE("a gas line and a lot line are crossed where they lie, what is beside is not") {
  SimpleYard yard = level_yard();
  site::Utility gas, beside;
  gas.name = "gas", gas.path = {{40 * foot, 0}, {40 * foot, 10 * foot}, {40 * foot, 20 * foot}};
  beside.name = "water", beside.path = {{0, 15 * foot}, {120 * foot, 15 * foot}};
  yard.site.utilities = {gas, beside};
  site::KeepOff lot;
  lot.kind = "lot line", lot.shape = {{100 * foot, 0}, {100 * foot, 20 * foot}};
  yard.site.keep_offs = {lot};
  const auto found = job::lines_crossed(yard.site, round_design().runs[0].path);
  REQUIRE(found.size() == 2); // the gas line bends where it is crossed, and is crossed once
  CHECK(found[0].name == "gas");
  CHECK_THAT(found[0].distance, WithinAbs(30 * foot, 1e-9));
  CHECK(found[1].name == "lot line");
  CHECK_THAT(found[1].distance, WithinAbs(90 * foot, 1e-9));
}

TEST_CASE("the cut sheet has a station where a line is crossed, and names it") {
  SimpleYard yard = level_yard();
  site::Utility gas;
  gas.name = "gas to grill", gas.path = {{42 * foot, 0}, {42 * foot, 20 * foot}};
  yard.site.utilities = {gas};
  gas.name = "cable", gas.path = {{60 * foot, 0}, {60 * foot, 20 * foot}}; // at a station of the sheet
  yard.site.utilities.push_back(gas);
  const job::CutSheet sheet = job::make_cut_sheet(yard.site, round_design(), yard.ground, 5 * foot);
  int named = 0;
  for (const job::CutStation& station : sheet.runs[0].stations) {
    if (station.note == "crosses gas to grill") {
      ++named;
      CHECK_THAT(station.station, WithinAbs(68 * foot, 1e-9));
      CHECK_THAT(station.invert, WithinAbs((97.5 + 0.68) * foot, 1e-9));
    }
    if (station.note == "crosses cable") {
      ++named;
      CHECK_THAT(station.station, WithinAbs(50 * foot, 1e-9));
    }
  }
  CHECK(named == 2);
  CHECK(sheet.runs[0].stations.size() == 22); // every 5 ft, and one crossing between
}

TEST_CASE("of lines that are crossed at one place, or at a bend or an end, none is left out of the sheet") {
  SimpleYard yard = level_yard();
  site::Design design = round_design();
  site::Run& run = design.runs[0];
  run.path = {{10 * foot, 10 * foot}, {60 * foot, 10 * foot}, {110 * foot, 14 * foot}};
  run.inverts = {98.5 * foot, 98 * foot, 97.5 * foot};
  design.outlets[0].at = run.path.back();
  const auto across = [&](const char* name, double x) {
    site::Utility line;
    line.name = name, line.path = {{x * foot, 0}, {x * foot, 20 * foot}};
    yard.site.utilities.push_back(line);
  };
  across("power", 42), across("phone", 42); // in one trench
  across("gas", 60), across("cable", 60);
  across("water", 10);
  across("street", 110);
  const job::CutSheet sheet = job::make_cut_sheet(yard.site, design, yard.ground, 5 * foot);
  std::vector<std::string> notes;
  for (const job::CutStation& station : sheet.runs[0].stations)
    if (!station.note.empty()) notes.push_back(station.note);
  CHECK(notes == std::vector<std::string>{"fence, crosses street", "bend, crosses gas, cable",
                                          "crosses power, phone", "head, crosses water"});
}

TEST_CASE("where lines cross, and at which angle") {
  const auto found = job::crossings({{0, 0}, {10, 0}, {10, 10}}, {{4, -1}, {4, 1}, {12, 9}});
  REQUIRE(found.size() == 2);
  CHECK(found[0].distance == Approx(4));
  CHECK(found[0].angle == Approx(M_PI / 2));
  CHECK(found[1].distance == Approx(17));
  CHECK(found[1].angle == Approx(M_PI / 4));
  CHECK(job::crossings({{0, 0}, {10, 0}}, {{0, 1}, {10, 1}}).empty());
  CHECK(job::crossings({{0, 0}, {5, 0}, {10, 0}}, {{5, -1}, {5, 1}}).size() == 1); // at a bend: once
}
