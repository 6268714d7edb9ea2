// What came to a place, left it again and stands there, source by source, against the books.
#include <lowspot/results/source_shares.hpp>

#include <numeric>
#include <string_view>

#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/results/recorder.hpp>

using namespace lowspot;

namespace {

results::DesignRecord record_run(SimpleYard& yard, double end, bool follow = true) {
  yard.site.run.output_every = 300;
  yard::Options options;
  options.follow_sources = follow;
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr, options);
  results::Recorder recorder(run, results::plan_outputs(yard.site.run, run.end_of_rain(), end));
  recorder.follow_shares(run, terrain::find_low_spots(yard.ground));
  for (double time : std::vector<double>(recorder.plan().times)) {
    run.advance(time, &recorder);
    recorder.output(run);
  }
  return recorder.finish(run, 1.0);
}

const results::PlaceShares& place(const results::DesignRecord& record, std::string_view name) {
  for (const results::PlaceShares& one : record.shares.places)
    if (one.name == name) return one;
  throw std::runtime_error("no place " + std::string(name));
}

std::size_t source(const results::DesignRecord& record, const std::string& name) {
  for (std::size_t s = 0; s < record.shares.sources.size(); ++s)
    if (record.shares.sources[s].name == name) return s;
  throw std::runtime_error("no source " + name);
}

} // namespace

TEST_CASE("A patio that sheds into a bed: what arrives less what leaves is what stands") {
  SimpleYard yard =
      simple_yard(30, 4, 0.5, [](double x, double) { return x < 10 ? 0.02 * (10 - x) : 0.03 * (x - 10); });
  add_strip(yard, "patio", 0, 16);
  add_strip(yard, "bed", 16, 30);
  yard.site.gauges = {{"foot of the patio", {9.8, 1.0}}};
  rain_at(yard, 1e-5, 1800);
  const results::DesignRecord record = record_run(yard, 7200);
  const std::size_t patio = source(record, "rain on patio"), bed = source(record, "rain on bed");
  const results::PlaceShares& on_bed = place(record, "bed");
  const results::PlaceShares& on_patio = place(record, "patio");
  for (const std::size_t s : {patio, bed})
    for (const results::PlaceShares* one : {&on_bed, &on_patio})
      CHECK_THAT(one->arrived[s] - one->left[s], WithinAbs(one->over_time[s].back(), 1e-12));
  CHECK_THAT(on_patio.over_time[patio].back() + on_bed.over_time[patio].back(),
             WithinRel(16 * 4 * 0.25 * 0.018, 1e-9));
  CHECK_THAT(on_bed.arrived[bed], WithinAbs(14 * 4 * 0.25 * 0.018 + on_patio.left[bed], 1e-9));
  CHECK_THAT(std::accumulate(on_bed.at_peak.begin(), on_bed.at_peak.end(), 0.0),
             WithinRel(on_bed.peak_volume, 1e-12));
  CHECK_THAT(std::accumulate(on_bed.at_rain_end.begin(), on_bed.at_rain_end.end(), 0.0),
             WithinRel(on_bed.rain_end_volume, 1e-12));
  CHECK(on_bed.peak_time > 0);
  // The one low spot is the trough between the two slopes, and holds all but films.
  const results::PlaceShares& trough = place(record, "low spot 1");
  CHECK(trough.kind == "low spot");
  CHECK_THAT(trough.over_time[patio].back() / (trough.over_time[patio].back() + trough.over_time[bed].back()),
             WithinAbs(16.0 / 30, 0.01));
  CHECK(place(record, "foot of the patio").kind == "gauge");
  // At its deepest a cell at the head of the patio holds patio rain alone.
  CHECK(record.shares.when_deepest[patio][0] == 1.0F);
}

TEST_CASE("What runs through a strip narrower than half a cell is counted on the cells it lies in") {
  SimpleYard yard = simple_yard(20, 4, 0.5, [](double x, double) { return 0.02 * (10 - x); });
  open_side(yard, terrain::Side::east);
  add_strip(yard, "slope", 0, 16);
  add_strip(yard, "strip", 16, 18);
  std::vector<double>& fractions = yard.ground.areas.back().fractions;
  for (std::size_t k = 0; k < fractions.size(); ++k) // column 16 by a third, a sliver of column 17
    fractions[k] = yard.ground.grid.column(yard.ground.areas.back().cells[k]) == 16 ? 0.3 : 0.05;
  rain_at(yard, 1e-5, 1800);
  const results::DesignRecord record = record_run(yard, 7200);
  const std::size_t slope = source(record, "rain on slope");
  const results::PlaceShares& strip = place(record, "strip");
  // What leaves the slope has one way: through column 16.
  CHECK(strip.arrived[slope] > 0.1);
  CHECK_THAT(strip.arrived[slope], WithinRel(place(record, "slope").left[slope], 1e-9));
  CHECK_THAT(strip.left[slope], WithinRel(strip.arrived[slope], 0.05)); // but for the film that stays
}

TEST_CASE("What leaves over the sides, by source, is what the ledger says") {
  SimpleYard yard = simple_yard(24, 6, 0.5, [](double x, double) { return -0.02 * x; });
  open_side(yard, terrain::Side::east);
  add_strip(yard, "patio", 0, 10);
  add_strip(yard, "lawn", 10, 24);
  make_pervious(yard);
  for (std::size_t c = 0; c < yard.ground.grid.cells(); ++c)
    if (yard.ground.grid.column(c) < 10) yard.ground.pervious[c] = 0;
  rain_at(yard, 2e-5, 3600);
  const results::DesignRecord record = record_run(yard, 5400);
  const results::PlaceShares& east = place(record, "east");
  const double left = std::accumulate(east.left.begin(), east.left.end(), 0.0);
  CHECK(left > 0.1);
  CHECK_THAT(left, WithinRel(record.ledger.left_over_edges - record.ledger.left_underground, 1e-9));
  // The lawn soaked in some of the patio's rain, so less than all of it left.
  CHECK(east.left[source(record, "rain on patio")] < 10 * 6 * 0.25 * 2e-5 * 3600);
}

TEST_CASE("Nothing is recorded of a yard that follows no sources") {
  SimpleYard yard = simple_yard(4, 4, 0.5, [](double, double) { return 0.0; });
  CHECK(record_run(yard, 600, false).shares.places.empty());
}
