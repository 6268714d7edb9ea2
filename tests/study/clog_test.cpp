#include <lowspot/study/clog.hpp>

#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/drain/cap.hpp>
#include <lowspot/yard/drain_layout.hpp>

using namespace lowspot;
using namespace lowspot::study;

namespace {
// One trench under sod with fabric.
site::Design capped() {
  site::Design design = simple_drain(simple_yard(24, 12, 0.25, [](double, double) { return 1.0; }));
  design.runs[0].cap = {"sod", 1e-6, 0.1, true};
  return design;
}
site::Design open() {
  return simple_drain(simple_yard(24, 12, 0.25, [](double, double) { return 1.0; }));
}
// What the drain lets through a metre of its trench with an inch of water on it, as it would be built.
double intake(const site::Design& design) {
  const SimpleYard yard = simple_yard(24, 12, 0.25, [](double, double) { return 1.0; });
  const drain::Run run =
      yard::resolve_drain(yard.site, design, [](Point) { return 1.0; }).layout.runs.front();
  drain::Station station;
  station.ground = 1;
  station.trench_width = 0.3;
  station.length = 1;
  constexpr double ponded = 0.0254, stone_level = 0.6;
  return drain::cap_flow(station.open * drain::cap_conductance(run, station), run.cap.depth, ponded,
                         station.ground + ponded - stone_level)
      .value;
}
} // namespace

TEST_CASE("what clogs takes in less, open stone as well as a cap") {
  site::Design under_sod = capped(), bare = open();
  const double sod = intake(under_sod), stone = intake(bare);
  clog_all(under_sod, 10);
  CHECK_THAT(intake(under_sod), WithinRel(sod / 10, 1e-9));
  CHECK(under_sod.runs[0].fabric.clogging == 10);
  clog_all(bare, 10);
  // A skin of 10 mm that takes in 1e-5 m/s, under an inch of water.
  CHECK_THAT(intake(bare), WithinRel(1e-5 * 0.3 * (25.4 + 10) / 10, 1e-6));
  CHECK(intake(bare) < 0.01 * stone);
  site::Design more = open();
  clog_all(more, 30);
  CHECK_THAT(intake(more), WithinRel(intake(bare) / 3, 1e-9));
}

TEST_CASE("only what a trench has can clog") {
  site::Design design = open();
  CHECK_FALSE(what_can_clog(design).cap);
  CHECK(what_can_clog(design).open_stone);
  CHECK(what_can_clog(design).fabric);
  design.runs[0].fabric = {};
  CHECK_FALSE(what_can_clog(design).fabric);
  site::Design carrier = capped();
  carrier.runs[0].has_trench = false;
  CHECK_FALSE(what_can_clog(carrier).any());
  clog_all(carrier, 10);
  CHECK(carrier.runs[0].cap.conductivity == 1e-6);
  CHECK(carrier.runs[0].fabric.clogging == 1);
}

TEST_CASE("the words name what was made tighter and by how much") {
  site::Site site;
  site.units = "m";
  CHECK(clogged_words(capped(), 10, site) == "fabric and cap 10 times less open");
  site::Design design = open();
  CHECK(clogged_words(design, 10, site) ==
        "fabric 10 times less open and fines on the open stone that take in 36 mm/hr");
  design.runs[0].fabric = {};
  site.units = "ft";
  CHECK(clogged_words(design, 30, site) == "fines on the open stone that take in 0.472 in/hr");
  design.runs.push_back(capped().runs[0]);
  design.runs[1].fabric = {};
  CHECK_THAT(clogged_words(design, 3, site), ContainsSubstring("cap 3 times less open and fines on"));
  design.runs.clear();
  CHECK(clogged_words(design, 3, site).empty());
}
