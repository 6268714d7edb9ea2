#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/base/error.hpp>
#include <lowspot/results/recorder.hpp>

using namespace lowspot;

namespace {
results::DesignRecord record_run(SimpleYard& yard, const site::Design* design, double end, double every) {
  yard.site.run.output_every = every;
  yard::Yard run(yard.site, yard.ground, yard.rain, design);
  results::Recorder recorder(run, results::plan_outputs(yard.site.run, run.end_of_rain(), end));
  for (double time : std::vector<double>(recorder.plan().times)) {
    run.advance(time, &recorder);
    recorder.output(run);
  }
  return recorder.finish(run, 1.0);
}
const results::Series& series(const results::DesignRecord& record, const std::string& name) {
  for (const results::Series& one : record.series)
    if (one.name == name) return one;
  throw std::runtime_error("no series " + name);
}
} // namespace

TEST_CASE("a filling basin: gauges, areas and ledger agree with arithmetic") {
  SimpleYard yard = simple_yard(8, 8, 0.5, [](double, double) { return 1.0; });
  add_whole_area(yard, "basin");
  yard.site.gauges = {{"middle", {2, 2}}};
  rain_at(yard, 1e-5, 2000); // 20 mm
  const results::DesignRecord record = record_run(yard, nullptr, 4000, 200);
  CHECK(record.name == "as is");
  REQUIRE(record.time.size() == 21);
  CHECK_THAT(series(record, "gauge:middle_m").values[5], WithinAbs(1e-5 * 1000, 1e-9));
  CHECK_THAT(record.gauges[0].max_depth, WithinAbs(0.02, 1e-12));
  CHECK_THAT(record.areas[0].peak_volume, WithinRel(0.02 * 16, 1e-9));
  CHECK(record.areas[0].still_standing);
  CHECK(record.gauges[0].still_standing);
  CHECK_FALSE(record.areas[0].clear_within_target);
  CHECK_THAT(record.areas[0].standing_hours_after_rain, WithinAbs(2000 / 3600.0, 1e-9));
  REQUIRE(record.last_standing.size() == 64);
  CHECK_THAT(record.last_standing[9], WithinAbs(4000, 1e-6)); // from the start, not from the end of the rain
  CHECK_THAT(record.ledger.rain, WithinRel(0.32, 1e-12));
  CHECK_THAT(record.ledger.stored_end - record.ledger.stored_start, WithinRel(0.32, 1e-9));
  CHECK(std::abs(record.ledger.closure) < 1e-12);
}

TEST_CASE("water that stands when the run ends has not been shown to go, be it before the rain does") {
  for (const double end : {1000.0, 2000.0, 2600.0}) {
    SimpleYard yard = simple_yard(8, 8, 0.5, [](double, double) { return 1.0; });
    add_whole_area(yard, "basin");
    rain_at(yard, 1e-5, 2000);
    const results::DesignRecord record = record_run(yard, nullptr, end, 200);
    INFO(end);
    CHECK(record.areas[0].still_standing);
    CHECK_FALSE(record.areas[0].clear_within_target);
    CHECK(record.still_standing);
  }
  SimpleYard dry = simple_yard(8, 8, 0.5, [](double, double) { return 1.0; });
  add_whole_area(dry, "basin");
  rain_at(dry, 1e-9, 2000);
  const results::DesignRecord record = record_run(dry, nullptr, 1000, 200);
  CHECK(record.areas[0].clear_within_target);
  CHECK_FALSE(record.still_standing);
}

TEST_CASE("flow over an edge and across a line adds up; a line counts positive the way the water went") {
  SimpleYard yard = simple_yard(20, 4, 0.5, [](double x, double) { return 1.0 - 0.02 * x; });
  open_side(yard, terrain::Side::east);
  yard.site.gauges = {{"high", {0.2, 1}}};
  yard.site.lines = {{"down", {{5, 0}, {5, 2}}}, {"up", {{5, 2}, {5, 0}}}};
  rain_at(yard, 1e-5, 1800);
  const results::DesignRecord record = record_run(yard, nullptr, 7200, 300);
  CHECK(record.edges[1].volume > 0.9 * record.ledger.rain);
  CHECK_FALSE(record.gauges.at(0).still_standing);
  CHECK_THAT(record.edges[1].volume, WithinRel(record.ledger.left_over_edges, 1e-9));
  CHECK_THAT(record.lines[0].volume, WithinRel(record.lines[1].volume, 1e-12));
  CHECK(record.lines[0].volume > 0.45 * record.ledger.rain);
  CHECK(record.lines[1].peak_flow > 0);
  for (double flow : series(record, "line:up_m3_per_s").values) CHECK(flow >= -1e-9);
}

TEST_CASE("maps are kept and maxima hold over all of them") {
  SimpleYard yard = simple_yard(6, 6, 0.5, [](double x, double) { return 1.0 + 0.01 * x; });
  rain_at(yard, 1e-5, 1000);
  const results::DesignRecord record = record_run(yard, nullptr, 2000, 100);
  REQUIRE_FALSE(record.frames.empty());
  for (const results::Frame& frame : record.frames)
    for (std::size_t c = 0; c < frame.depth.size(); ++c) CHECK(frame.depth[c] <= record.max_depth[c] + 1e-6);
}

TEST_CASE("a gauge at the foot of a house reads the ground beside it, one deep inside is refused") {
  SimpleYard yard = simple_yard(16, 8, 0.5, [](double, double) { return 1.0; });
  const Grid& grid = yard.ground.grid;
  for (std::size_t c = 0; c < grid.cells(); ++c)
    if (grid.column(c) >= 8) yard.ground.active[c] = 0; // a house east of x = 4
  rain_at(yard, 1e-5, 2000);                            // 20 mm
  yard.site.gauges = {{"at the wall", {4.0, 2.2}}};     // on its line: in the cell that is the house's
  const results::DesignRecord record = record_run(yard, nullptr, 4000, 200);
  CHECK_THAT(record.gauges[0].max_depth, WithinAbs(0.02, 1e-12));
  CHECK_THAT(record.gauges[0].standing_hours_after_rain, WithinAbs(2000 / 3600.0, 1e-9));
  CHECK_THAT(series(record, "gauge:at the wall_m").values[5], WithinAbs(1e-5 * 1000, 1e-9));
  yard.site.gauges = {{"in the kitchen", {7.5, 2.2}}};
  CHECK_THROWS_AS(record_run(yard, nullptr, 4000, 200), InputError);
}
