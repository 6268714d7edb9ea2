#include <cmath>
#include <random>
#include <utility>

#include <lowspot/drain/balance.hpp>
#include <lowspot/drain/implicit_step.hpp>
#include <lowspot/drain/stone_store.hpp>

#include "catch.hpp"
#include "layouts.hpp"

using namespace lowspot::drain;
using namespace lowspot::drain::testing;

namespace {

Layout trench_on_leaking_ground() {
  Layout made = trench_and_carrier();
  made.station_spacing = 2.5;
  made.runs[0].bottom_conductivity = 1e-5;
  return made;
}

// An inlet, a pop-up with its weep hole, a dry well that soaks away and a pump that runs.
Layout every_kind_of_place() {
  Layout made = trench_on_leaking_ground();
  Fitting inlet{"grate", {15, 0}};
  inlet.chamber = {0.09, 99.1, 100};
  inlet.mouth = Mouth{99.7, 1.2, 0.045, 0, true, {{15, 0}}};
  inlet.link = {"carrier", 99.3, 0.1, 0.61 * 0.00785 * 0.99};
  made.fittings.push_back(inlet);
  made.outlets[0].kind = OutletKind::pop_up;
  made.outlets[0].level = 99.35;
  made.outlets[0].opening_head = 0.03;
  made.outlets[0].weep_area = 2e-5;
  made.runs.push_back(straight_run("to well", 30, 40, 99.5, 99.4));
  made.runs.back().to = "well";
  Outlet well{"well", OutletKind::dry_well, {40, 0}};
  well.chamber = {0.3, 98.8, 99.9, 2e-5, 0.8, 3.1, 99.8};
  well.mouth = Mouth{99.9, 0.6, 0.02, 0, false, {{40, 0}}};
  made.outlets.push_back(well);
  made.runs.push_back(solid_run("to pump", 50, 60, 99.5, 99.4));
  made.runs.back().to = "pump";
  Outlet pump{"pump", OutletKind::pump, {60, 0}};
  pump.chamber = {0.16, 98.4, 100};
  pump.mouth = Mouth{99.9, 1.6, 0.16, 0, false, {{60, 0}}};
  pump.pump = {2e-3, 98.9, 98.6, 0, 0};
  made.outlets.push_back(pump);
  return made;
}

struct Setting {
  Layout layout;
  Network network;
  Balance balance;
  std::vector<double> book, source, ponded, weight, lean, held, on_mouths, outside, gathered;
  std::vector<char> open, pump_runs;
  StepInput input;

  explicit Setting(Layout layout_ = trench_on_leaking_ground())
      : layout(std::move(layout_)), network(make_network(layout, level_ground)), balance(network),
        book(network.unknowns, 0.0), source(network.unknowns, 1e-4), ponded(network.stations.size(), 0.01),
        weight(network.pipe_reaches.size(), 0.7), lean(network.pipes.size(), 0.1),
        held(dry_state(network).held), on_mouths(network.mouths.size(), 0.005),
        outside(dry_state(network).outside), gathered(network.pipes.size(), 2e-4),
        open(network.pipes.size(), 1),
        pump_runs(network.pumps.size(), 1), input{book, source, ponded,    open,      weight,  lean,
                                                  20,   held,   on_mouths, pump_runs, outside, gathered} {}
};

} // namespace

// Every entry: those that the network ties, and those that must be nothing.
TEST_CASE("the matrix holds the derivatives of the balance") {
  for (const Layout& layout : {trench_on_leaking_ground(), every_kind_of_place()}) {
    Setting setting(layout);
    const Network& network = setting.network;
    const int n = network.unknowns;
    std::vector<std::vector<char>> tied(n, std::vector<char>(n, 0));
    const auto tie = [&](int a, int b) { tied[a][b] = tied[b][a] = 1; };
    for (int i = 0; i < n; ++i) tie(i, i);
    for (const SlotTie& slot : network.slots) tie(slot.stone, slot.pipe);
    for (const PipeReach& reach : network.pipe_reaches) tie(reach.a, reach.b);
    for (const StoneTie& stones : network.stone_ties) tie(stones.a, stones.b);
    for (const LinkTie& link : network.links) tie(link.a, link.b);
    std::mt19937 random(3);
    std::uniform_real_distribution<> between(0.01, 0.75);
    std::vector<double> level(n), residual(n), up(n), down(n);
    for (int repeat = 0; repeat < 8; ++repeat) {
      for (double& h : level) h = 99.35 + between(random);
      if (repeat % 2 == 1) // films, where a pump draws air and a weep hole is all that passes
        for (const PlaceStore& place : network.places)
          level[place.unknown] = place.bottom + 0.007 * between(random);
      setting.balance.evaluate(network, level, setting.input, residual, true);
      const std::vector<double> values(setting.balance.matrix().values().begin(),
                                       setting.balance.matrix().values().end());
      for (int j = 0; j < n; ++j) {
        const double at = level[j], step = 1e-7;
        level[j] = at + step;
        setting.balance.evaluate(network, level, setting.input, up, false);
        level[j] = at - step;
        setting.balance.evaluate(network, level, setting.input, down, false);
        level[j] = at;
        for (int i = 0; i < n; ++i) {
          const double difference = (up[i] - down[i]) / (2 * step);
          const double claimed = tied[i][j] ? values[setting.balance.matrix().position(i, j)] : 0;
          CAPTURE(repeat, i, j);
          CHECK_THAT(claimed, WithinAbs(difference, 1e-5 * std::abs(difference) + 1e-6));
        }
      }
    }
  }
}

TEST_CASE("what passes between stores cancels in their sum") {
  Setting setting;
  const int n = setting.network.unknowns;
  std::vector<double> level(n, 99.6), residual(n);
  for (int i = 0; i < n; ++i) level[i] += 0.01 * (i % 7);
  setting.balance.evaluate(setting.network, level, setting.input, residual, false);
  const Flows flows = setting.balance.flows();
  double leaving = 0;
  for (const auto* list : {&flows.loss, &flows.rise, &flows.overflow, &flows.free_ends, &flows.stone_ends})
    for (double q : *list) leaving += q;
  double sum = 0, still = 0;
  for (double r : residual) sum += r;
  StepInput no_time = setting.input;
  no_time.dt = 0;
  setting.balance.evaluate(setting.network, level, no_time, residual, false);
  for (double r : residual) still += r;
  CHECK_THAT(sum, WithinAbs(still + 20 * (leaving - 1e-4 * n), 1e-12));
}

TEST_CASE("level and volume of stone are each other's inverse, above its top too") {
  const StoneStore store{0, 0, 99.0, 99.5, 0.05, 0.003};
  for (double level : {99.0, 99.2, 99.5, 99.8})
    CHECK_THAT(stone_level_for(store, stone_volume(store, level)), WithinRel(level, 1e-12));
}
