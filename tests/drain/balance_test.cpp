#include <random>

#include <lowspot/drain/balance.hpp>
#include <lowspot/drain/implicit_step.hpp>

#include "catch.hpp"
#include "layouts.hpp"

using namespace lowspot::drain;
using namespace lowspot::drain::testing;

namespace {

struct Setting {
  Layout layout = [] {
    Layout made = trench_and_carrier();
    made.station_spacing = 2.5;
    made.runs[0].bottom_conductivity = 1e-5;
    return made;
  }();
  Network network = make_network(layout, level_ground);
  Balance balance{network};
  std::vector<double> book = std::vector<double>(network.unknowns, 0.0);
  std::vector<double> source = std::vector<double>(network.unknowns, 1e-4);
  std::vector<double> ponded = std::vector<double>(network.stations.size(), 0.01);
  std::vector<char> open = std::vector<char>(network.pipes.size(), 1);
  std::vector<double> weight = std::vector<double>(network.pipe_reaches.size(), 0.7);
  std::vector<double> lean = std::vector<double>(network.pipes.size(), 0.1);
  std::vector<double> held = dry_state(network).held;
  StepInput input{book, source, ponded, open, weight, lean, 20, held, {}, {}};
};

} // namespace

TEST_CASE("the matrix holds the derivatives of the balance") {
  Setting setting;
  std::mt19937 random(3);
  std::uniform_real_distribution<> between(0.01, 0.75);
  const int n = setting.network.unknowns;
  std::vector<double> level(n), residual(n), up(n), down(n);
  for (int repeat = 0; repeat < 5; ++repeat) {
    for (double& h : level) h = 99.35 + between(random);
    setting.balance.evaluate(setting.network, level, setting.input, residual, true);
    std::vector<double> values(setting.balance.matrix().values().begin(),
                               setting.balance.matrix().values().end());
    for (int j = 0; j < n; ++j) {
      const double at = level[j], step = 1e-7;
      level[j] = at + step;
      setting.balance.evaluate(setting.network, level, setting.input, up, false);
      level[j] = at - step;
      setting.balance.evaluate(setting.network, level, setting.input, down, false);
      level[j] = at;
      for (const PipeReach& reach : setting.network.pipe_reaches)
        if (reach.a == j || reach.b == j)
          for (int i : {reach.a, reach.b}) {
            const double difference = (up[i] - down[i]) / (2 * step);
            const double claimed = values[setting.balance.matrix().position(i, j)];
            CHECK_THAT(claimed, WithinAbs(difference, 1e-3 * (1 + std::abs(difference))));
          }
      for (const SlotTie& slot : setting.network.slots)
        if (slot.stone == j || slot.pipe == j)
          for (int i : {slot.stone, slot.pipe}) {
            const double difference = (up[i] - down[i]) / (2 * step);
            const double claimed = values[setting.balance.matrix().position(i, j)];
            CHECK_THAT(claimed, WithinAbs(difference, 1e-3 * (1 + std::abs(difference))));
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
  const StoneStore store{0, 0, 99.0, 99.5, 0.05, 0.003, 0, 0};
  for (double level : {99.0, 99.2, 99.5, 99.8})
    CHECK_THAT(stone_level_for(store, stone_volume(store, level)), WithinRel(level, 1e-12));
}
