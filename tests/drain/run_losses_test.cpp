#include <lowspot/drain/run_losses.hpp>

#include "catch.hpp"
#include "layouts.hpp"

#include <lowspot/drain/cap.hpp>

using namespace lowspot::drain;
using namespace lowspot::drain::testing;

namespace {

struct Setting {
  explicit Setting(Layout made = trench_and_carrier()) : layout(std::move(made)) {
    for (const StoneStore& stone : network.stones) level[stone.unknown] = stone.bottom;
    for (const PipeStore& pipe : network.pipes) level[pipe.unknown] = pipe.invert;
    for (const PlaceStore& place : network.places) level[place.unknown] = place.bottom;
  }
  HeadLosses losses(int run) {
    return losses_of(layout, network, level, balance.flows(), {cap, soil, wall, ponded}, run);
  }
  Layout layout;
  Network network = make_network(layout, level_ground);
  Balance balance{network};
  std::vector<double> level = std::vector<double>(network.unknowns, 0.0);
  std::vector<double> cap = std::vector<double>(network.stations.size(), 0.0);
  std::vector<double> soil = cap, wall = cap, ponded = cap;
};

} // namespace

TEST_CASE("a dry run loses nothing") {
  Setting setting;
  const HeadLosses losses = setting.losses(0);
  CHECK_FALSE(losses.under_stress);
  CHECK(limiting_member(losses) == Limit::nothing);
}

TEST_CASE("water on the cap over empty stone is the cap's loss") {
  Setting setting;
  setting.ponded[4] = 0.03;
  setting.cap[4] = 0.08 * cap_conductance(setting.layout.runs[0], setting.network.stations[4]);
  CHECK_THAT(setting.losses(0).cap, WithinAbs(0.08, 1e-9)); // its depth and the water on it
  CHECK(limiting_member(setting.losses(0)) == Limit::cap);
}

TEST_CASE("a cap over full stone is not blamed for what the outlet does not take") {
  Layout layout = trench_and_carrier();
  layout.outlets[0] = {"end", OutletKind::pump, {20, 0}};
  layout.outlets[0].chamber = {0.2, 98.5, 100.0};
  layout.runs[0].cap = {}; // open stone
  Setting setting(layout);
  for (const StoneStore& stone : setting.network.stones) setting.level[stone.unknown] = 100.0;
  for (const PipeStore& pipe : setting.network.pipes) setting.level[pipe.unknown] = 100.0;
  for (const PlaceStore& place : setting.network.places) setting.level[place.unknown] = 99.95;
  for (double& ponded : setting.ponded) ponded = 0.25;
  setting.cap[4] = 1e-4; // what the pump lifts
  CHECK(setting.losses(0).cap < 1e-3);
  CHECK_THAT(setting.losses(1).outlet, WithinAbs(99.95 - 99.3, 1e-9)); // above the crown of the foot
  CHECK(limiting_member(setting.losses(1)) == Limit::outlet);
}

TEST_CASE("stone that stands above the pipe's water is the slots' loss") {
  Setting setting;
  for (const StoneStore& stone : setting.network.stones) setting.level[stone.unknown] = 99.9;
  CHECK(limiting_member(setting.losses(0)) == Limit::slots);
}

TEST_CASE("pressure in a pipe whose foot is free is the pipe's loss") {
  Setting setting;
  const PipeStore& first = setting.network.pipes[20];
  setting.level[first.unknown] = first.invert + 0.4;
  CHECK_THAT(setting.losses(1).pipe, WithinAbs(0.3, 1e-9));
  CHECK(limiting_member(setting.losses(1)) == Limit::pipe);
}

TEST_CASE("fabric holds back what its law asks, over the wall that the water passes") {
  Layout layout = trench_and_carrier();
  layout.runs[0].fabric = {0.1, 100};
  Setting setting(layout);
  const StoneStore& stone = setting.network.stones[3];
  const double length = setting.network.stations[3].length;
  setting.level[stone.unknown] = stone.bottom + 0.02;
  setting.soil[3] = 2 * 1e-3 * length * 0.16 * 0.021; // through 0.16 m of both walls
  setting.wall[3] = 0.16;
  CHECK_THAT(setting.losses(0).fabric, WithinAbs(0.021, 1e-9));
  // Nothing known of the wall: the levels outside and inside of it, 0.30 m and 0.02 m.
  setting.soil[3] = 1e-3 * length * (0.30 * 0.30 - 0.02 * 0.02);
  setting.wall[3] = 0;
  CHECK_THAT(setting.losses(0).fabric, WithinAbs(0.28, 1e-9));
}

TEST_CASE("a clogged fabric that passes soil water is named") {
  Layout layout = trench_and_carrier();
  layout.runs[0].fabric = {0.1, 100};
  Setting setting(layout);
  for (const StoneStore& stone : setting.network.stones)
    setting.level[stone.unknown] = setting.network.stations[stone.station].invert + 0.01;
  setting.ponded[3] = 0.002;
  setting.soil[3] = 1e-5;
  setting.level[setting.network.stones[3].unknown] = 99.99; // the stone is full: the cap holds nothing back
  CHECK(setting.losses(0).fabric > 0.01);
  CHECK(setting.losses(0).cap < 0.05);
}
