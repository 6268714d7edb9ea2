// Infiltration over stretches of several steps: the law as if it had been asked at every moment, and books
// that close while water waits at the tops of the columns.
#include "catch.hpp"
#include "figures.hpp"
#include "simple_yard.hpp"

#include <cmath>

#include <lowspot/yard/yard.hpp>

using namespace lowspot;

namespace {

SimpleYard tub(double intensity, double conductivity) { // closed and flat: what falls stays or soaks in
  SimpleYard yard = simple_yard(3, 3, 0.5, [](double, double) { return 1.0; });
  make_pervious(yard);
  yard.site.soils[0].conductivity = {conductivity, conductivity, conductivity};
  yard.site.soils[0].tight_conductivity = {0, 0, 0};
  yard.rain.time = {0, 5400};
  yard.rain.intensity = {intensity};
  return yard;
}

// The same columns asked every half second, with the depth that stands at the moment [m infiltrated].
double asked_often(const SimpleYard& yard, const yard::Yard& like, double until) {
  soil::Columns columns = like.columns();
  const std::size_t n = columns.active.size();
  constexpr double dt = 0.5;
  Field saturated(n, 0.0), depth(n, 0.0), supply(n, yard.rain.intensity[0]), capacity(n), water(n),
      recharge(n);
  double sum = 0;
  for (double time = 0; time < until; time += dt) {
    soil::infiltration_capacity(columns, saturated, depth, supply, dt, capacity);
    for (std::size_t c = 0; c < n; ++c) {
      water[c] = std::min(capacity[c] * dt, depth[c] + supply[c] * dt);
      depth[c] += supply[c] * dt - water[c];
    }
    sum += water[0];
    soil::infiltrate(columns, saturated, water, dt, recharge);
  }
  return sum;
}

} // namespace

TEST_CASE("ground that ponds takes in what the law gives at every moment") {
  const double until = 1500; // the columns are not yet full
  for (const double conductivity : {2e-7, 2e-6, 1e-5}) {
    const SimpleYard yard = tub(3e-5, conductivity);
    yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
    const double reference = asked_often(yard, run, until);
    run.advance(until);
    INFO("conductivity " << conductivity << " m/s");
    CHECK(run.depth()[0] > 1e-3); // it does pond
    CHECK_THAT(run.cell_books().infiltrated[0], WithinRel(reference, 2e-3));
    figures::record("yard", "ponded soil asked every 30 s, or every second", "taken in over 25 min, mm",
                    (reference)*1e3, (run.cell_books().infiltrated[0]) * 1e3, figures::share(2e-3));
  }
}

TEST_CASE("rain that the soil can take goes in as it comes, and waits no longer than the moment it is read") {
  const SimpleYard yard = tub(1e-6, 1e-5);
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
  const double before = run.stored(Store::soil) + run.stored(Store::perched);
  for (const double until : {7.0, 100.0, 1111.0, 5000.0}) {
    run.advance(until);
    const double fallen = 1e-6 * until * 9 * 0.25;
    CHECK_THAT(run.stored(Store::soil) + run.stored(Store::perched) - before, WithinRel(fallen, 1e-9));
    double in_columns = 0; // nothing waits when the caller looks
    for (std::size_t c = 0; c < run.saturated().size(); ++c)
      in_columns += soil::water_above(run.columns(), c, run.saturated()[c]) +
                    soil::water_saturated(run.columns(), c, run.saturated()[c]);
    CHECK_THAT(in_columns * 0.25 - before, WithinRel(fallen, 1e-9));
  }
}

TEST_CASE("the books close after every step while water waits at the tops of the columns") {
  struct Books : yard::Observer {
    void step_done(const yard::Yard& yard, const yard::StepFlows&) override {
      worst = std::max(worst, std::abs(yard.closure()));
    }
    double worst = 0;
  } books;
  const SimpleYard yard = tub(2e-5, 3e-6);
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
  run.advance(7200, &books);
  CHECK(books.worst < 1e-9 * run.rain_volume());
}

TEST_CASE("a pool over full ground falls as Darcy's law through the tight layer asks") {
  SimpleYard yard = tub(6e-2 / 600, 1e-5);
  site::Soil& soil = yard.site.soils[0];
  soil.tight_conductivity = {2e-7, 2e-7, 2e-7};
  soil.tight_thickness = 0.5;
  soil.perched_start = 0.3;
  yard.rain.time = {0, 600};
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
  run.advance(1800);
  const double start = run.depth()[0], below = 0.5 + 0.3; // m from the ground to the foot of the layer
  run.advance(1800 + 12 * 3600);
  const double expected = start - ((start + below) * std::exp(-2e-7 / 0.5 * 12 * 3600) - below);
  CHECK(start > 0.05);
  CHECK_THAT(start - run.depth()[0], WithinRel(expected, 1e-3));
  CHECK_THAT(run.saturated()[0], WithinRel(0.3, 1e-6));
}

TEST_CASE("how fast a pool goes down does not depend on the steps of the resting yard") {
  // A bowl whose water leaves through the tight layer and sideways into the soil around it.
  SimpleYard yard = simple_yard(11, 11, 0.5, [](double x, double y) {
    return 1.0 + 0.15 * std::min(1.0, std::hypot(x - 2.75, y - 2.75) / 2);
  });
  make_pervious(yard);
  site::Soil& soil = yard.site.soils[0];
  soil.conductivity = {5e-6, 5e-6, 5e-6};
  soil.tight_conductivity = {2e-7, 2e-7, 2e-7};
  soil.drainable_porosity = {0.04, 0.04, 0.04};
  yard.rain.time = {0, 3600};
  yard.rain.intensity = {0.1 / 3600};
  const auto middle = [&](double interval, double until) {
    yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
    run.advance(2 * 3600);
    const double before = run.depth()[60];
    for (double time = 2 * 3600; time < until; time += interval) run.advance(time + interval);
    return before - run.depth()[60];
  };
  const double fine = middle(60, 26 * 3600), usual = middle(3600, 26 * 3600);
  CHECK(fine > 0.01);
  CHECK_THAT(usual, WithinRel(fine, 5e-3));
}

// A hose on a dry slope: all of its water soaks in on the way, the more cells the farther it runs.
TEST_CASE(
    "water that begins to run over dry ground soaks in on its way, also in a step of the resting yard") {
  SimpleYard yard = simple_yard(40, 3, 0.5, [](double x, double) { return 2.0 - 0.02 * x; });
  make_pervious(yard);
  open_side(yard, terrain::Side::east);
  site::Soil& soil = yard.site.soils[0];
  soil.conductivity = {1e-5, 1e-5, 1e-5};
  soil.depth = {1, 1, 1};
  const auto infiltrated = [&](double interval) {
    yard::Options options;
    options.leaks = {
        {"hose", {40, 0, 80}, 2e-4, 3 * 3600}}; // the three cells at the top, 0.27 mm/s: they pond at once
    yard::Yard run(yard.site, yard.ground, yard.rain, nullptr, options);
    run.set_reference_et(0);
    for (double time = 0; time < 4 * 3600; time += interval) run.advance(time + interval);
    CHECK(std::abs(run.closure()) < 1e-9 * 2e-4 * 3 * 3600);
    const auto& taken = run.cell_books().infiltrated;
    return std::vector<double>(taken.begin(), taken.end());
  };
  const std::vector<double> fine = infiltrated(30), usual = infiltrated(300);
  double sum = 0, apart = 0;
  for (std::size_t c = 0; c < fine.size(); ++c) {
    sum += fine[c];
    apart += std::abs(usual[c] - fine[c]);
  }
  CHECK(fine[43] > 0.01); // beyond what the hose wets
  CHECK(apart < 0.01 * sum);
}

// A trickle onto a pool, less than its bottom takes: the pool goes down, and the dry ground around it has no
// part in it.
TEST_CASE("a pool that is fed less than it loses falls as if the ground around it were not there") {
  const auto fall = [](double width) {
    const int n = static_cast<int>(std::lround(width / 0.5));
    SimpleYard yard = simple_yard(n, n, 0.5, [&](double x, double y) {
      return std::max(std::abs(x - width / 2), std::abs(y - width / 2)) < 0.75 ? 1.0 : 1.5;
    });
    make_pervious(yard);
    yard.site.soils[0].conductivity = {1e-9, 1e-9, 1e-9}; // nothing of note goes sideways
    yard.site.soils[0].depth = {2, 2, 2};
    const int middle = (n / 2) * n + n / 2;
    std::vector<int> cells;
    for (int j = -1; j <= 1; ++j)
      for (int i = -1; i <= 1; ++i) cells.push_back(middle + j * n + i);
    yard::Options options;
    options.leaks = {{"hose", cells, 2.25 * 1e-5, 7200}}; // 72 mm in two hours, then dry
    yard::Yard run(yard.site, yard.ground, yard.rain, nullptr, options);
    run.set_reference_et(0);
    run.advance(30 * 3600);
    return run.depth()[middle];
  };
  const double tight = fall(2.5), wide = fall(7.5);
  CHECK(wide > 0.05);
  CHECK_THAT(wide, WithinRel(tight, 1e-6));
}
