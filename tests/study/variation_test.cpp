#include <lowspot/study/variation.hpp>

#include "catch.hpp"
#include "study/tuned_yard.hpp"

#include <lowspot/base/error.hpp>

using namespace lowspot;

TEST_CASE("every combination once, named by what makes it") {
  SimpleYard yard = bowl_to_tune();
  site::TuneLists& lists = yard.site.tune->vary;
  lists.depths = {0.3, 0.4, 0.5};
  lists.caps = {sod_cap(), open_cap()};
  const std::vector<study::Choice> choices = study::all_choices(yard.site);
  REQUIRE(choices.size() == 6);
  CHECK(study::choice_name(yard.site, choices[0]) == "300 mm deep; sod, 100 mm");
  CHECK(study::choice_name(yard.site, choices[5]) == "500 mm deep; open stone");
  CHECK(choices[1].pipe == -1);
}

TEST_CASE("a yard without [tune] and one with far too much of it are refused") {
  SimpleYard yard = bowl_to_tune();
  yard.site.tune->vary.depths.assign(50, 0.3);
  yard.site.tune->vary.widths.assign(50, 0.3);
  yard.site.tune->vary.falls.assign(50, 0.01);
  CHECK_THROWS_AS(study::all_choices(yard.site), InputError);
  yard.site.tune.reset();
  CHECK_THROWS_WITH(study::tuned_design(yard.site), ContainsSubstring("[tune]"));
}

TEST_CASE("a carrier follows the pipe that feeds it, a cap takes the conductivity of its place") {
  SimpleYard yard = bowl_to_tune();
  site::Design design = yard.site.designs.front();
  site::Run carrier = design.runs.front();
  design.runs[0].to = "tee";
  carrier.name = "carrier";
  carrier.from = "tee";
  carrier.has_trench = false;
  carrier.pipe.slot_area = 0;
  design.runs.push_back(carrier);
  site::PipeChoice wide{"6 in corrugated, slotted", 0.15, 0.17, 0.017, 0.002, 0.61};
  yard.site.tune->vary.pipes = {wide};
  yard.site.tune->vary.caps = {sod_cap(), open_cap()};
  study::Choice choice;
  choice.pipe = 0;
  choice.cap = 0;
  site::Design changed = design;
  study::exchange_parts(yard.site, choice, changed);
  CHECK(changed.runs[0].pipe.diameter == 0.15);
  CHECK(changed.runs[0].cap.conductivity == yard.site.soils[0].conductivity.likely);
  CHECK(changed.runs[1].pipe.name == "6 in corrugated, solid");
  CHECK(changed.runs[1].pipe.slot_area == 0);
  choice.cap = 1;
  changed = design;
  changed.runs[1].pipe.diameter = 0.2; // a main that is large already stays
  study::exchange_parts(yard.site, choice, changed);
  CHECK(changed.runs[1].pipe.diameter == 0.2);
  CHECK(changed.runs[0].cap.conductivity == changed.runs[0].stone.conductivity);
}

TEST_CASE("what stands from an earlier stage is not varied") {
  SimpleYard yard = bowl_to_tune();
  site::Design design = yard.site.designs.front();
  site::Run carrier = design.runs.front();
  design.runs[0].to = "tee";
  carrier.name = "carrier", carrier.from = "tee";
  design.runs.push_back(carrier); // in stone as well
  site::Run first = carrier;
  first.name = "solid", first.from = "", first.has_trench = false, first.pipe.slot_area = 0;
  design.runs.push_back(first);
  CHECK(study::varied_runs(design) == std::vector<bool>{true, true, false});
  design.standing = {"carrier", "solid"};
  CHECK(study::varied_runs(design) == std::vector<bool>{true, false, false});
  yard.site.tune->vary.pipes = {{"6 in corrugated, slotted", 0.15, 0.17, 0.017, 0.002, 0.61}};
  yard.site.tune->vary.widths = {0.5};
  study::Choice choice;
  choice.pipe = choice.width = 0;
  site::Design changed = design;
  study::exchange_parts(yard.site, choice, changed);
  CHECK(changed.runs[0].pipe.diameter == 0.15);
  for (const std::size_t standing : {1, 2}) { // though their pipe was of the same size and lies in the way
    CHECK(changed.runs[standing].pipe.diameter == design.runs[standing].pipe.diameter);
    CHECK(changed.runs[standing].trench_width == design.runs[standing].trench_width);
  }
  design.standing = {"run", "carrier", "solid"};
  CHECK(study::varied_runs(design) == std::vector<bool>{false, false, false});
}
