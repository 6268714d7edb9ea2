#include <lowspot/study/design_changes.hpp>

#include <cmath>

#include "catch.hpp"
#include "simple_yard.hpp"

using namespace lowspot;
using namespace lowspot::study;

namespace {
const catalog::Catalog& shipped() {
  static const catalog::Catalog catalog =
      catalog::read_catalog(std::string(LOWSPOT_SOURCE_DATA) + "/catalog");
  return catalog;
}
site::Design usual() {
  const SimpleYard yard = simple_yard(24, 12, 0.25, [](double, double) { return 1.0; });
  site::Design design = simple_drain(yard);
  site::Run& run = design.runs[0];
  run.pipe = {"3 in corrugated, slotted", 0.0762, 0.09, 0.015, 0.002, 0.61};
  run.stone = {"pea", 0.37, 0.03, 1, 1640};
  run.cap = {"sod", 1e-6, 0.1, true};
  run.fabric.clogging = 5;
  site::Run carrier = run;
  carrier.name = "carrier";
  carrier.has_trench = false;
  carrier.pipe = {"3 in corrugated, solid", 0.0762, 0.09, 0.015, 0, 0.61};
  design.runs.push_back(carrier);
  return design;
}
const DesignChange* the(const std::vector<DesignChange>& list, const std::string& id) {
  for (const DesignChange& change : list)
    if (change.id == id) return &change;
  return nullptr;
}
} // namespace

TEST_CASE("each change changes one thing") {
  const site::Design design = usual();
  const auto list = single_changes(shipped(), design, true);
  const DesignChange* pipe = the(list, "larger_pipe");
  REQUIRE(pipe);
  CHECK(pipe->design.runs[0].pipe.name == "4 in corrugated, slotted");
  CHECK(pipe->design.runs[1].pipe.name == "4 in corrugated, solid");
  CHECK(pipe->design.runs[1].pipe.slot_area == 0);
  CHECK(pipe->design.runs[0].cap.depth == design.runs[0].cap.depth);
  const DesignChange* stone = the(list, "coarser_stone");
  REQUIRE(stone);
  CHECK(stone->design.runs[0].stone.conductivity > 0.03);
  CHECK(stone->design.runs[0].pipe.name == design.runs[0].pipe.name);
  const DesignChange* open = the(list, "open_cap");
  REQUIRE(open);
  CHECK(open->design.runs[0].cap.depth == 0);
  CHECK(open->design.runs[0].cap.conductivity == 0.03);
  CHECK(the(list, "clean_fabric")->design.runs[0].fabric.clogging == 1);
  CHECK(the(list, "deeper")->design.runs[0].trench_depth == Approx(0.4 + 0.1524));
  CHECK_THAT(the(single_changes(shipped(), design, false), "deeper")->name,
             ContainsSubstring("150 mm deeper"));
}

TEST_CASE("stone up to the ground is no cap, however deep its figures say it lies") {
  site::Design design = usual();
  site::CapChoice& cap = design.runs[0].cap;
  cap = {"open stone", design.runs[0].stone.conductivity, 3 * 0.0254, false};
  cap.of_stone = true;
  const auto list = single_changes(shipped(), design, true);
  CHECK(the(list, "open_cap") == nullptr); // it is open
  const DesignChange* stone = the(list, "coarser_stone");
  REQUIRE(stone);
  CHECK(stone->design.runs[0].cap.conductivity == stone->design.runs[0].stone.conductivity);
  site::Site site;
  site.units = "ft";
  site::Design shallow = design;
  shallow.runs[0].cap.depth = 0;
  const DesignChange ten = clogged(design, 10, site), same = clogged(shallow, 10, site);
  CHECK(ten.name == same.name);
  CHECK(ten.design.runs[0].cap.conductivity == same.design.runs[0].cap.conductivity);
  CHECK(ten.design.runs[0].cap.depth == same.design.runs[0].cap.depth);
}

TEST_CASE("a pump and a dry well are made larger by themselves") {
  site::Design design = usual();
  CHECK_FALSE(the(single_changes(shipped(), design, true), "larger_pump"));
  CHECK_FALSE(the(single_changes(shipped(), design, true), "larger_dry_well"));
  design.outlets[0].kind = "pump";
  design.outlets[0].pump_rate = 2e-3;
  site::Outlet pit = design.outlets[0];
  pit.kind = "dry well";
  pit.well = {2, 5, 1.5};
  design.outlets.push_back(pit);
  const auto list = single_changes(shipped(), design, true);
  const DesignChange *pump = the(list, "larger_pump"), *well = the(list, "larger_dry_well");
  REQUIRE(pump);
  REQUIRE(well);
  CHECK(pump->design.outlets[0].pump_rate == 4e-3);
  CHECK(pump->design.outlets[1].well.plan == 2);
  CHECK(well->design.outlets[1].well.plan == 4);
  CHECK(well->design.outlets[1].well.perimeter == Approx(5 * std::sqrt(2.0)));
  CHECK(well->design.outlets[1].well.depth == 1.5);
  CHECK(well->design.outlets[0].pump_rate == 2e-3);
}

TEST_CASE("what does not apply is left out") {
  site::Design design = usual();
  design.runs[0].cap.depth = 0;
  design.runs[0].fabric.clogging = 1;
  design.runs[0].pipe.name = "own figures";
  design.runs.pop_back();
  const auto list = single_changes(shipped(), design, true);
  CHECK_FALSE(the(list, "open_cap"));
  CHECK_FALSE(the(list, "clean_fabric"));
  CHECK_FALSE(the(list, "larger_pipe"));
  CHECK_FALSE(the(list, "slotted"));
  CHECK(single_changes(shipped(), site::Design{}, true).empty());
  design.runs[0].pipe = {"3 in corrugated, solid", 0.0762, 0.09, 0.015, 0, 0.61};
  CHECK(the(single_changes(shipped(), design, true), "slotted")->design.runs[0].pipe.slot_area > 0);
}

TEST_CASE("clogging acts on fabric and cap of trenches") {
  site::Site site;
  site.units = "ft";
  const DesignChange ten = clogged(usual(), 10, site);
  CHECK(ten.id == "clogged_10");
  CHECK(ten.name == "fabric and cap 10 times less open");
  CHECK(ten.design.runs[0].fabric.clogging == 50);
  CHECK(ten.design.runs[0].cap.conductivity == Approx(1e-7));
  CHECK(ten.design.runs[1].fabric.clogging == 5);
}

TEST_CASE("of several lines each is made larger by itself, and all sizes are named") {
  site::Design design = usual();
  CHECK_FALSE(the(single_changes(shipped(), design, true), "larger_pipe_1")); // one line
  site::Run second = design.runs[0];
  second.name = "second line";
  second.from.clear();
  second.to = "pit";
  second.pipe = {"4 in corrugated, slotted", 0.1016, 0.117, 0.015, 0.002, 0.61};
  design.runs.push_back(second);
  site::Outlet pit = design.outlets[0];
  pit.name = "pit";
  pit.kind = "pump";
  pit.pump_rate = 2e-3;
  design.outlets.push_back(pit);
  const auto list = single_changes(shipped(), design, true);
  const DesignChange* all = the(list, "larger_pipe");
  REQUIRE(all);
  CHECK(all->name == "next pipe size: 4 in corrugated, 6 in corrugated");
  CHECK(all->design.runs[0].pipe.name == "4 in corrugated, slotted");
  CHECK(all->design.runs[2].pipe.name == "6 in corrugated, slotted");
  const DesignChange *one = the(list, "larger_pipe_1"), *two = the(list, "larger_pipe_2");
  REQUIRE(one);
  REQUIRE(two);
  CHECK(one->name == "next pipe size at '" + design.outlets[0].name + "' alone: 4 in corrugated");
  CHECK(one->design.runs[2].pipe.name == second.pipe.name);
  CHECK(one->design.runs[1].pipe.name == "4 in corrugated, solid"); // what leads on is of the same line
  CHECK(two->name == "next pipe size at 'pit' alone: 6 in corrugated");
  CHECK(two->design.runs[0].pipe.name == design.runs[0].pipe.name);
  CHECK(the(list, "larger_pump"));
  CHECK_FALSE(the(list, "larger_pump_1")); // there is one pump
  design.outlets[0].kind = "pump";
  design.outlets[0].pump_rate = 1e-3;
  const auto pumps = single_changes(shipped(), design, true);
  CHECK(the(pumps, "larger_pump")->design.outlets[0].pump_rate == 2e-3);
  CHECK(the(pumps, "larger_pump_2")->design.outlets[0].pump_rate == 1e-3);
  CHECK(the(pumps, "larger_pump_2")->design.outlets[1].pump_rate == 4e-3);
}

TEST_CASE("what stands from an earlier stage is not changed") {
  site::Design design = usual();
  site::Outlet pump = design.outlets[0];
  pump.name = "pit", pump.kind = "pump", pump.pump_rate = 1e-3;
  design.outlets.push_back(pump);
  design.outlets[0].invert = 0.3;
  site::Outlet well = pump;
  well.name = "well", well.kind = "dry well", well.well = {1, 4, 1, 0.4, 1e-6};
  design.outlets.push_back(well);
  design.standing = {"carrier", "pit", "well", design.outlets[0].name};
  const auto list = single_changes(shipped(), design, true);
  CHECK(the(list, "larger_pipe")->design.runs[0].pipe.name == "4 in corrugated, slotted");
  CHECK(the(list, "larger_pipe")->design.runs[1].pipe.name == "3 in corrugated, solid");
  CHECK(the(list, "larger_pump") == nullptr);
  CHECK(the(list, "larger_dry_well") == nullptr);
  const DesignChange* deeper = the(list, "deeper");
  REQUIRE(deeper);
  CHECK(deeper->design.runs[0].trench_depth == Approx(0.4 + 0.1524));
  CHECK(deeper->design.runs[1].trench_depth == Approx(0.4));
  CHECK(deeper->design.outlets[0].invert == 0.3);
  CHECK_THAT(deeper->name, ContainsSubstring("still to be laid"));
  design.standing.push_back(design.runs[0].name);
  CHECK(single_changes(shipped(), design, true).empty());
}
