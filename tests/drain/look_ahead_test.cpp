#include <lowspot/drain/look_ahead.hpp>
#include <lowspot/drain/stone_store.hpp>

#include <cmath>
#include <limits>

#include <lowspot/drain/cap_capacity.hpp>
#include <lowspot/drain/mouth_capacity.hpp>

#include "catch.hpp"
#include "layouts.hpp"

using namespace lowspot::drain;
using namespace lowspot::drain::testing;

namespace {

constexpr double dt = 10;       // s
constexpr double ponded = 0.05; // m

// A leg whose cap passes more than any number can say: no step that asks it converges.
struct Hopeless {
  Hopeless() : layout(trench_and_carrier()), network(make_network(layout, level_ground)), work(network) {
    for (StoneStore& stone : network.stones) stone.cap_conductance = std::numeric_limits<double>::infinity();
    state = dry_state(network);
  }
  AroundDrain around() const { return {source, on_ground, {}, layout.outlets.size()}; }
  Layout layout;
  Network network;
  Workspace work;
  SolverState state;
  std::vector<double> source = std::vector<double>(network.unknowns, 0.0);
  std::vector<double> on_ground = std::vector<double>(network.stations.size(), ponded);
};

} // namespace

TEST_CASE("a trial leaves the drain as it is and says where it would be") {
  const Layout layout = trench_and_carrier();
  const Network network = make_network(layout, level_ground);
  Workspace work(network);
  const SolverState state = dry_state(network);
  const std::vector<double> source(network.unknowns, 0.0), on_ground(network.stations.size(), ponded);
  const std::vector<double> most(network.stations.size(), 1e-5);
  const auto ahead = look_ahead(network, state, {source, on_ground, {}, 1}, {most, {}, 0}, dt, work);
  REQUIRE(ahead);
  double came = 0, held = 0;
  for (const double volume : ahead->gone.cap) came += volume;
  for (const double volume : ahead->state.book) held += volume;
  CHECK_THAT(came, WithinRel(1e-5 * 20 * dt, 1e-9)); // twenty stations of trench
  CHECK_THAT(held + ahead->gone.outlet[0] + ahead->gone.to_depth, WithinRel(came, 1e-9));
  for (const double volume : state.book) CHECK(volume == 0);
}

TEST_CASE("where a trial does not converge, caps are offered what there is room for beyond what came last") {
  Hopeless drain;
  std::vector<double> taken(drain.on_ground.size(), 2e-5), offered(taken), capacity(taken), finds(taken);
  REQUIRE_FALSE(look_ahead(drain.network, drain.state, drain.around(), {taken, {}, 0}, dt, drain.work));
  REQUIRE_NOTHROW(find_cap_capacity(drain.network, drain.state, {taken, offered, taken, drain.around()}, dt,
                                    drain.work, capacity, finds));
  for (const StoneStore& stone : drain.network.stones)
    CHECK_THAT(capacity[stone.station], WithinRel(2e-5 + stone_volume(stone, stone.top) / dt, 1e-12));
}
