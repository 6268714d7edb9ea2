#include <lowspot/study/candidate.hpp>

#include "catch.hpp"
#include "study/tuned_yard.hpp"

using namespace lowspot;

namespace {
study::Choice first(int study::Choice::*member) {
  study::Choice choice;
  choice.*member = 0;
  return choice;
}
} // namespace

TEST_CASE("what works take: the trench is dug from its bottom to the ground") {
  SimpleYard yard = yard_to_tune([](double, double) { return 1.0; });
  const study::Works works = study::works_of(yard.site, yard.site.designs[0], yard.ground);
  // 4 m of trench 0.3 m wide, 0.4 m deep at the head and 0.44 m at the foot.
  CHECK_THAT(works.length, WithinAbs(4, 1e-9));
  CHECK_THAT(works.dig, WithinRel(4 * 0.3 * 0.42, 1e-6));
  CHECK(works.pipe == 0.1);
  CHECK(std::isnan(works.cost));
  yard.site.ordering.rates = {{"trench", 10, "m", 0}, {"a part of another design", 5, "m", 0}};
  CHECK_THAT(study::works_of(yard.site, yard.site.designs[0], yard.ground).cost, WithinRel(40.0, 1e-9));
}

TEST_CASE("limits refuse with their name and by how much they are missed") {
  SimpleYard yard = bowl_to_tune();
  site::Tune& tune = *yard.site.tune;
  tune.vary.depths = {0.7};
  tune.vary.widths = {0.1};
  const study::Choice deep = first(&study::Choice::depth);
  CHECK(study::make_candidate(yard.site, yard.ground, deep).limit == "fall");
  const study::Candidate narrow = study::make_candidate(yard.site, yard.ground, first(&study::Choice::width));
  CHECK(narrow.limit == "room");
  CHECK_THAT(narrow.missed_by, WithinAbs(0.015, 1e-9));
  tune.vary.depths = {0.15};
  CHECK(study::make_candidate(yard.site, yard.ground, deep).limit == "room"); // bedding and pipe need 165 mm
  tune.vary.depths = {0.35};
  yard.site.reach.run_out = 0.5;
  const study::Candidate good = study::make_candidate(yard.site, yard.ground, deep);
  CHECK(good.can_be_built());
  CHECK(good.design.name == "350 mm deep");
  tune.cover = 0.25;
  const study::Candidate bare = study::make_candidate(yard.site, yard.ground, deep);
  CHECK(bare.limit == "cover");
  CHECK(bare.missed_by > 0);
  tune.cover = 0.02;
  tune.deepest_trench = 0.3;
  CHECK(study::make_candidate(yard.site, yard.ground, deep).limit == "trench depth");
  tune.vary.offsets = {2};
  CHECK(study::make_candidate(yard.site, yard.ground, first(&study::Choice::offset)).limit == "place");
}

TEST_CASE("a run that is moved under paving is refused, one that is drawn under it stays there") {
  SimpleYard yard = bowl_to_tune(); // the run lies at y = 1.5
  site::Tune& tune = *yard.site.tune;
  site::Area patio;
  patio.name = "patio";
  patio.impervious = true;
  patio.outline = {{1, 1.8}, {4, 1.8}, {4, 2.8}, {1, 2.8}};
  yard.site.areas.push_back(patio);
  tune.vary.offsets = {-0.6};
  const study::Candidate under = study::make_candidate(yard.site, yard.ground, first(&study::Choice::offset));
  CHECK(under.limit == "place");
  CHECK(under.refused.find("under patio") != std::string::npos);
  tune.vary.offsets = {0.2};
  CHECK(study::make_candidate(yard.site, yard.ground, first(&study::Choice::offset)).limit != "place");
  yard.site.areas.back().outline = yard.site.outline;
  CHECK(study::make_candidate(yard.site, yard.ground, first(&study::Choice::offset)).limit != "place");
}

TEST_CASE(
    "cover is asked for where checks ask for it: over half of a short run, up to an end that stays below") {
  SimpleYard yard = bowl_to_tune();
  site::Tune& tune = *yard.site.tune;
  tune.vary.depths = {0.35};
  tune.cover = 0.25;
  const study::Choice deep = first(&study::Choice::depth);
  REQUIRE(yard.site.reach.run_out > length(yard.site.designs[0].runs[0].path)); // the usual 20 ft
  CHECK(study::make_candidate(yard.site, yard.ground, deep).limit == "cover");
}

TEST_CASE("smaller: less to dig, then the smaller pipe; or cheaper where both have a price") {
  study::Candidate a, b;
  a.works.dig = 1, a.works.pipe = 0.1;
  b.works.dig = 2, b.works.pipe = 0.07;
  CHECK(study::smaller(a, b));
  b.works.dig = 1;
  CHECK(study::smaller(b, a));
  a.works.cost = 100, b.works.cost = 200;
  CHECK(study::smaller(a, b));
}

TEST_CASE("a cap of topsoil is that of the ground where the run has been moved") {
  SimpleYard yard = yard_to_tune([](double, double) { return 1.0; });
  site::Run& run = yard.site.designs[0].runs[0];
  yard.site.soils.push_back(yard.site.soils[0]); // a bed of clay over the run as drawn
  yard.site.soils[0].conductivity = {1e-5, 1e-5, 1e-5};
  yard.site.soils[1].conductivity = {1e-7, 1e-7, 1e-7};
  site::Area bed;
  bed.soil = 1;
  const Point a = run.path.front(), b = run.path.back();
  bed.outline = {{std::min(a.x, b.x) - 0.2, std::min(a.y, b.y) - 0.2},
                 {std::max(a.x, b.x) + 0.2, std::min(a.y, b.y) - 0.2},
                 {std::max(a.x, b.x) + 0.2, std::max(a.y, b.y) + 0.2},
                 {std::min(a.x, b.x) - 0.2, std::max(a.y, b.y) + 0.2}};
  yard.site.areas = {bed};
  run.cap.of_topsoil = true;
  run.cap.conductivity = 1e-7;
  run.cap.depth = 0.1;
  yard.site.tune->vary.offsets = {0.5, 0};
  study::Choice choice = first(&study::Choice::offset);
  CHECK(study::make_candidate(yard.site, yard.ground, choice).design.runs[0].cap.conductivity == 1e-5);
  choice.offset = 1; // stays
  CHECK(study::make_candidate(yard.site, yard.ground, choice).design.runs[0].cap.conductivity == 1e-7);
}

TEST_CASE("a well that stands from an earlier stage is not dug again") {
  SimpleYard yard = bowl_to_tune();
  site::Design design = yard.site.designs[0];
  site::Outlet well = design.outlets[0];
  well.name = "well", well.kind = "dry well", well.well = {1, 4, 0.6, 0.4, 1e-6};
  well.at = {1, 1};
  design.outlets.push_back(well);
  const double dug = study::works_of(yard.site, design, yard.ground).dig;
  design.standing = {"well"};
  CHECK_THAT(dug - study::works_of(yard.site, design, yard.ground).dig, WithinAbs(0.6, 1e-9));
}

TEST_CASE(
    "a later stage costs in the search what its take-off says: adapters of the first are not bought twice") {
  SimpleYard yard = bowl_to_tune();
  site::Building house;
  house.name = "house";
  house.outline = {{0, 2.5}, {1, 2.5}, {1, 3}, {0, 3}};
  house.downspouts = {{"west", {1, 2.5}, 20, "run"}, {"east", {1, 3}, 20, "ground"}};
  yard.site.buildings = {house};
  site::Design later = yard.site.designs[0];
  later.name = "later";
  later.after = "drain";
  later.standing = {"run", "outlet"};
  site::Outlet well = later.outlets[0];
  well.name = "well", well.kind = "dry well", well.well = {1, 4, 0.6, 0.4, 1e-6};
  well.at = {1, 1};
  later.outlets.push_back(well);
  yard.site.designs.push_back(later);
  yard.site.ordering.rates = {{"spoil hauled away", 10, "m3", 0},
                              {"downspout adapter, 100 mm", 5, "each", 0}};
  const job::Takeoff takeoff = job::take_off(yard.site, later, yard.ground);
  CHECK_THAT(takeoff.cost, WithinRel(10 * 0.6 * yard.site.ordering.swell, 1e-9));
  const study::Works works = study::works_of(yard.site, later, yard.ground);
  CHECK_THAT(works.cost, WithinRel(takeoff.cost, 1e-9));
  CHECK(works.without_price == takeoff.without_price);
}
