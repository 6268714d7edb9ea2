// Sources by name, followed through whole yards.
#include <lowspot/yard/sources.hpp>

#include <algorithm>
#include <random>

#include "catch.hpp"
#include "figures.hpp"
#include "simple_yard.hpp"

#include <lowspot/yard/yard.hpp>

using namespace lowspot;

namespace {

// A house on one cell, which it fills, with downspouts on open ground.
void add_house(SimpleYard& yard, int cell, std::vector<site::Downspout> downspouts) {
  site::Building house;
  house.name = "house";
  const Grid& grid = yard.ground.grid;
  const double x = grid.x(grid.column(cell)), y = grid.y(grid.row(cell)), half = grid.cell / 2;
  house.outline = {{x - half, y - half}, {x + half, y - half}, {x + half, y + half}, {x - half, y + half}};
  house.downspouts = std::move(downspouts);
  yard.site.buildings.push_back(house);
  yard.ground.buildings.push_back({{cell}, {1.0}});
  yard.ground.active[cell] = 0;
}

double volume_of(const yard::Yard& run, int tag) {
  double sum = 0;
  for (std::size_t c = 0; c < run.depth().size(); ++c) sum += run.shares()->share(tag)[c] * run.depth()[c];
  return sum * run.ground().grid.cell_area();
}

int named(const yard::Yard& run, const std::string& name) {
  for (std::size_t k = 0; k < run.sources().size(); ++k)
    if (run.sources()[k].name == name) return static_cast<int>(k);
  return -1;
}

struct SharesEveryStep : yard::Observer {
  void step_done(const yard::Yard& yard, const yard::StepFlows&) override {
    for (std::size_t c = 0; c < yard.depth().size(); ++c) {
      if (!(yard.depth()[c] > 0)) continue;
      double sum = 0;
      for (int tag = 0; tag < yard.shares()->count(); ++tag) {
        least = std::min(least, yard.shares()->share(tag)[c]);
        sum += yard.shares()->share(tag)[c];
      }
      misfit = std::max(misfit, std::abs(sum - 1));
    }
  }
  double misfit = 0, least = 1;
};

} // namespace

TEST_CASE("Downspouts and rain in a closed bowl have the shares of their volumes") {
  SimpleYard yard = simple_yard(
      16, 12, 0.5, [](double x, double y) { return 0.01 * ((x - 4) * (x - 4) + (y - 3) * (y - 3)); });
  add_strip(yard, "patio", 0, 6);
  add_house(yard, 5 * 16 + 0,
            {{"west downspout", {0.9, 0.9}, 30, "ground"}, {"east downspout", {7.1, 5.1}, 10, "ground"}});
  rain_at(yard, 1e-5, 1200);
  yard::Options options;
  options.follow_sources = true;
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr, options);
  run.advance(7200);
  const double total = run.surface().volume();
  CHECK_THAT(volume_of(run, named(run, "house, west downspout")), WithinRel(30 * 0.012, 1e-10));
  figures::record("yard", "downspouts and rain in a closed bowl", "water of one downspout, m3", 30 * 0.012,
                  volume_of(run, named(run, "house, west downspout")), figures::share(1e-10));
  CHECK_THAT(volume_of(run, named(run, "house, east downspout")), WithinRel(10 * 0.012, 1e-10));
  CHECK_THAT(volume_of(run, named(run, "rain on patio")), WithinRel((6 * 12 - 1) * 0.25 * 0.012, 1e-10));
  CHECK_THAT(volume_of(run, named(run, "rain on the open ground")), WithinRel(10 * 12 * 0.25 * 0.012, 1e-10));
  CHECK(volume_of(run, named(run, "water rising out of the soil")) == 0);
  CHECK_THAT(total, WithinRel((30 + 10 + 191 * 0.25) * 0.012, 1e-10));
}

TEST_CASE("Patio above lawn: the water that leaves is shared as their lengths") {
  SimpleYard yard = simple_yard(40, 3, 0.5, [](double x, double) { return -0.01 * x; });
  open_side(yard, terrain::Side::east);
  add_strip(yard, "patio", 0, 15);
  add_strip(yard, "lawn", 15, 40);
  rain_at(yard, 2e-5, 7200);
  yard::Options options;
  options.follow_sources = true;
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr, options);
  run.advance(3000);
  CHECK(run.sources().size() == 3);
  // Faces carry single precision: a steady discharge holds to about 1e-7 of itself.
  CHECK_THAT(run.shares()->share(named(run, "rain on patio"))[39], WithinAbs(15.0 / 40, 1e-7));
  figures::record("yard", "patio above lawn", "share of the patio in what leaves", 15.0 / 40,
                  run.shares()->share(named(run, "rain on patio"))[39], figures::amount(1e-7));
}

TEST_CASE("A cell that two areas share gets the rain of both") {
  SimpleYard yard = simple_yard(4, 1, 1, [](double, double) { return 0.0; });
  add_strip(yard, "patio", 0, 2);
  yard.ground.areas[0].fractions[1] = 0.25; // a quarter of cell 1
  const yard::Sources sources(yard.site, yard.ground, {}, {}, {}, false);
  yard::Sources filled = sources;
  filled.begin();
  filled.rain(1, 8e-6);
  REQUIRE(filled.arriving().size() == 2);
  double patio = 0, open = 0;
  for (const surface::TagSupply& entry : filled.arriving())
    (sources.list()[entry.tag].name == "rain on patio" ? patio : open) += entry.rate;
  CHECK_THAT(patio, WithinRel(2e-6, 1e-12));
  CHECK_THAT(open, WithinRel(6e-6, 1e-12));
}

TEST_CASE("More areas than names: the smallest share one") {
  SimpleYard yard = simple_yard(200, 1, 1, [](double, double) { return 0.0; });
  int at = 0;
  for (int k = 0; k < 15; ++k) {
    add_strip(yard, "area " + std::to_string(k), at, at + k + 1);
    at += k + 1;
  }
  const yard::Sources sources(yard.site, yard.ground, {}, {}, {}, true);
  CHECK(static_cast<int>(sources.list().size()) == yard::most_sources);
  const auto known = [&](const std::string& name) {
    return std::any_of(sources.list().begin(), sources.list().end(),
                       [&](const yard::Source& source) { return source.name == name; });
  };
  CHECK(known("rain on area 14"));
  CHECK(known("rain on the open ground"));
  CHECK(known("rain on smaller areas"));
  CHECK_FALSE(known("rain on area 0"));
}

TEST_CASE("A leak is water of its own and is booked as inflow") {
  SimpleYard yard = simple_yard(
      10, 10, 0.5, [](double x, double y) { return 0.02 * ((x - 2.5) * (x - 2.5) + (y - 2.5) * (y - 2.5)); });
  yard::Options options;
  options.follow_sources = true;
  options.leaks = {{"leak", {33, 34}, 2e-5}};
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr, options);
  run.advance(3600);
  CHECK_THAT(volume_of(run, named(run, "leak")), WithinRel(2e-5 * 3600, 1e-10));
  CHECK_THAT(run.ledger().given(Store::inflow), WithinRel(2e-5 * 3600, 1e-12));
}

TEST_CASE("In random yards with drains the shares of every cell sum to one") {
  std::mt19937 random(77);
  std::uniform_real_distribution<double> unit(0, 1);
  for (int trial = 0; trial < 6; ++trial) {
    const double a = unit(random), b = unit(random), c = unit(random);
    SimpleYard yard = simple_yard(20, 14, 0.3, [&](double x, double y) {
      return 5 + 0.06 * a * std::sin(3 * x + b) * std::cos(2 * y + c) - 0.03 * b * x;
    });
    make_pervious(yard);
    if (trial % 3 != 0) open_side(yard, terrain::Side::east);
    add_strip(yard, "patio", 2, 9);
    add_house(yard, 13 * 20 + 3, {{"downspout", {2.0, 3.0}, 8, "ground"}});
    site::Soil& soil = yard.site.soils[0];
    soil.conductivity.likely = std::pow(10.0, -7 + 2 * unit(random));
    soil.initial_moisture = 0.3 + 0.1 * unit(random);
    soil.perched_start = trial % 2 ? 0.25 : 0; // nearly full: water comes up again
    yard.rain.time = {0, 600, 1800, 5400, 6300};
    yard.rain.intensity = {2e-5 * unit(random), 4e-6, 0, 3e-5 * unit(random)};
    const site::Design design = simple_drain(yard, 0.4);
    yard::Options options;
    options.follow_sources = true;
    yard::Yard run(yard.site, yard.ground, yard.rain, trial % 2 ? &design : nullptr, options);
    SharesEveryStep shares;
    run.advance(20000, &shares);
    CAPTURE(trial);
    CHECK(shares.misfit < 1e-13);
    CHECK(shares.least >= 0);
  }
}

TEST_CASE("Water that comes out of full soil is named so") {
  SimpleYard yard = simple_yard(12, 4, 0.5, [](double x, double) { return x < 3 ? -0.05 * x : -0.15; });
  make_pervious(yard);
  yard.site.soils[0].conductivity = {1e-4, 1e-4, 1e-4};
  yard.site.soils[0].perched_start = 0.299; // of 0.3 m: water seeps down the slope and comes up at its foot
  yard::Options options;
  options.follow_sources = true;
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr, options);
  run.advance(20000);
  const double risen = volume_of(run, named(run, "water rising out of the soil"));
  CHECK(risen > 1e-4);
  CHECK_THAT(risen, WithinRel(run.surface().volume(), 1e-9)); // nothing else has arrived
}

TEST_CASE("Without following there is nothing to ask for") {
  SimpleYard yard = simple_yard(4, 4, 0.5, [](double, double) { return 0.0; });
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
  run.watch({});
  CHECK(run.sources().empty());
  CHECK(run.shares() == nullptr);
  CHECK(run.arriving().empty());
  CHECK(yard::source_kind_name(yard::SourceKind::below) == "from below");
}

TEST_CASE("Every kind of source has a name of its own in the summary") {
  std::vector<std::string> names;
  for (const yard::SourceKind kind :
       {yard::SourceKind::rain, yard::SourceKind::roof, yard::SourceKind::inflow, yard::SourceKind::leak,
        yard::SourceKind::below, yard::SourceKind::drain})
    names.push_back(yard::source_kind_name(kind));
  CHECK(names == std::vector<std::string>{"rain", "roof", "inflow", "leak", "from below", "drain"});
}

TEST_CASE("In a yard that is all roof whatever rain there is has one name") {
  SimpleYard yard = simple_yard(2, 1, 1, [](double, double) { return 0.0; });
  yard.ground.buildings.push_back({{0, 1}, {1.0, 1.0}});
  yard.ground.active.assign(2, 0);
  yard::Sources sources(yard.site, yard.ground, {}, {}, {}, false);
  sources.begin();
  sources.rain(1, 3e-6);
  REQUIRE(sources.arriving().size() == 1);
  CHECK(sources.arriving()[0].rate == 3e-6);
  CHECK(sources.list()[sources.arriving()[0].tag].name == "rain on the open ground");
}
