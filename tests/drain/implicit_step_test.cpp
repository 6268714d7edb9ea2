#include <cmath>
#include <numbers>
#include <numeric>

#include <lowspot/base/error.hpp>
#include <lowspot/drain/implicit_step.hpp>
#include <lowspot/drain/stone_store.hpp>

#include "catch.hpp"
#include "layouts.hpp"

using namespace lowspot;
using namespace lowspot::drain;
using namespace lowspot::drain::testing;

namespace {

struct Machine {
  explicit Machine(const Layout& layout)
      : network(make_network(layout, level_ground)), state(dry_state(network)), work(network),
        source(network.unknowns, 0.0), ponded(network.stations.size(), 0.0) {
    gone = no_departures(network, layout.outlets.size());
  }
  void run(double dt) {
    advance_network(network, source, ponded, std::vector<double>(network.mouths.size(), 0.0), dt, state, work,
                    gone);
  }
  double stored() const { return std::accumulate(state.book.begin(), state.book.end(), 0.0); }

  Network network;
  SolverState state;
  Workspace work;
  std::vector<double> source, ponded;
  Departures gone;
};

} // namespace

TEST_CASE("books follow flows, and levels follow books") {
  Machine machine(trench_and_carrier());
  for (const StoneStore& stone : machine.network.stones) machine.source[stone.unknown] = 5e-5;
  for (int k = 0; k < 20; ++k) machine.run(30);
  CHECK_THAT(machine.stored() + machine.gone.outlet[0], WithinRel(5e-5 * 20 * 600, 1e-12));
  for (const StoneStore& stone : machine.network.stones)
    CHECK_THAT(stone_volume(stone, machine.state.level[stone.unknown]),
               WithinAbs(machine.state.book[stone.unknown], 1e-9));
  CHECK_THAT(machine.state.time, WithinRel(600, 1e-9));
}

TEST_CASE("a whole hour goes in one step when nothing happens") {
  Machine machine(trench_and_carrier());
  machine.run(3600);
  machine.run(3600);
  CHECK(machine.state.next_step >= 600);
  CHECK(machine.stored() == 0);
}

TEST_CASE("a step that cannot converge says when and where") {
  Machine machine(trench_and_carrier());
  machine.source[machine.network.pipes[3].unknown] = std::nan("");
  CHECK_THROWS_AS(machine.run(1), NumericsError);
}

// Manning's friction slope over the full section, at speeds at which a slot that counted as a free surface
// would take 1.4 and 2.8 % off the gradient.
TEST_CASE("the grade line of a fast full pipe falls by its friction") {
  const double d = 0.1, n = 0.01, area = std::numbers::pi / 4 * d * d;
  for (const double speed : {2.0, 3.0}) {
    Layout layout;
    layout.runs = {solid_run("leg", 0, 30, 10, 10)};
    layout.runs[0].pipe = {d, n, 0, 0.61};
    layout.runs[0].to = "end";
    layout.outlets = {{"end", OutletKind::submerged, {30, 0}}};
    layout.outlets[0].level = 13;
    Machine machine(layout);
    machine.source[machine.network.pipes[0].unknown] = speed * area;
    for (int k = 0; k < 200; ++k) machine.run(10);
    const std::size_t last = machine.network.pipes.size() - 1;
    const double drop = machine.state.level[machine.network.pipes[0].unknown] -
                        machine.state.level[machine.network.pipes[last].unknown];
    const double length = machine.network.stations[last].distance - machine.network.stations[0].distance;
    CHECK_THAT(drop / length, WithinRel(n * n * speed * speed / std::pow(d / 4, 4.0 / 3), 1e-3));
  }
}
