// A drain never fails a step: networks and loads at random. The suite tries a share of the seeds,
// `test_drain "[.thousand]"` all of them.
#include <numeric>

#include <lowspot/base/error.hpp>
#include <lowspot/drain/cap.hpp>

#include "catch.hpp"
#include "random_network.hpp"

using namespace lowspot;
using namespace lowspot::drain;
using namespace lowspot::drain::testing;

namespace {

// What a drain is given and what comes out of it, with its books.
struct Load {
  explicit Load(const Drain& drain)
      : cap(drain.stations().size(), 0.0), soil(cap), pipe(cap), ponded(cap), capacity(cap), available(cap),
        mouths(static_cast<std::size_t>(drain.mouths()), 0.0), on_mouths(mouths),
        taps(drain.layout().taps.size(), 0.0), over(mouths.size()) {}

  // strength: 0 dry, 1 what a storm brings, 10 far too much.
  void draw(Dice& dice, const Drain& drain, double dt, double strength, bool soil_takes) {
    for (double& depth : ponded) depth = strength > 0 && dice.chance(0.5) ? dice.between(0, 0.1) : 0;
    for (double& depth : on_mouths) depth = strength > 0 && dice.chance(0.5) ? dice.between(0, 0.1) : 0;
    drain.cap_capacity(ponded, dt, capacity);
    drain.available_for_soil(dt, available);
    for (std::size_t i = 0; i < cap.size(); ++i) {
      const bool trenched = drain.stations()[i].trench_width > 0;
      cap[i] = trenched ? std::min(capacity[i], strength * dice.between(0, 3e-4)) : 0;
      const bool room = drain.stone_level()[i] < drain.stations()[i].ground;
      soil[i] = !trenched    ? 0
                : soil_takes ? -dice.between(0, 1) * available[i] / dt
                : room       ? std::min(strength * dice.between(0, 1e-5), 2e-3 / dt)
                             : 0;
      pipe[i] = strength > 0 && dice.chance(0.02) ? strength * dice.between(0, 2e-3) : 0;
    }
    for (std::size_t m = 0; m < mouths.size(); ++m)
      over[m] = {static_cast<int>(m), 1, drain.mouth(static_cast<int>(m)).level, on_mouths[m], 0, 0, 0.25};
    drain.mouth_capacity(over, dt, mouths);
    for (double& q : mouths) q = std::min(q, strength * dice.between(0, 3e-3));
    for (double& q : taps) q = dice.chance(0.7) ? strength * dice.between(0, 1e-3) : 0;
  }

  std::vector<double> cap, soil, pipe, ponded, capacity, available, mouths, on_mouths, taps;
  std::vector<MouthWater> over;
};

double sum(const std::vector<double>& list) {
  return std::accumulate(list.begin(), list.end(), 0.0);
}
double handled(const std::vector<double>& list) {
  return std::accumulate(list.begin(), list.end(), 0.0, [](double a, double b) { return a + std::abs(b); });
}
bool none_negative(const std::vector<double>& list) {
  return std::all_of(list.begin(), list.end(), [](double value) { return value >= 0; });
}

void check_network(unsigned seed) {
  INFO("seed " << seed);
  Dice dice(seed);
  const Layout layout = random_layout(dice);
  const auto faults = problems(layout);
  INFO((faults.empty() ? std::string() : faults.front()));
  REQUIRE(faults.empty());
  double bottom = 1e9;
  for (const Run& run : layout.runs) bottom = std::min(bottom, run.inverts.back() - run.bedding);
  for (const Outlet& outlet : layout.outlets)
    if (outlet.chamber.area > 0) bottom = std::min(bottom, outlet.chamber.bottom);
  Drain drain(layout, tilted_ground);
  Load load(drain);
  double in = 0, out = 0, moved = 0;
  // Dry, then sudden flow of every strength, then pauses in which the soil drinks, then dry for long.
  const int steps = 24;
  for (int k = 0; k < steps; ++k) {
    const double dt = dice.decades(0.5, 2500);
    const bool wet = k > 1 && k < steps - 8 && dice.chance(0.7);
    const double strength = wet ? (dice.chance(0.15) ? 10 : dice.between(0, 2)) : 0;
    load.draw(dice, drain, dt, strength, dice.chance(0.4));
    const double before = drain.stored();
    Inflows inflows{load.cap, load.soil, load.pipe, load.mouths, load.taps};
    INFO("interval " << k << " of " << dt << " s, strength " << strength);
    Outcome outcome;
    REQUIRE_NOTHROW(outcome = drain.advance(dt, inflows, load.ponded, load.on_mouths));
    const double came =
        (sum(load.cap) + sum(load.soil) + sum(load.pipe) + sum(load.mouths) + sum(load.taps)) * dt;
    const double went =
        sum(outcome.to_surface) + sum(outcome.outlet_volume) + sum(outcome.from_mouth) + outcome.to_depth;
    in += came;
    out += went;
    moved += (handled(load.cap) + handled(load.soil) + handled(load.pipe) + handled(load.mouths) +
              handled(load.taps)) *
                 dt +
             before;
    REQUIRE(std::isfinite(went));
    REQUIRE(none_negative(outcome.to_surface));
    REQUIRE(none_negative(outcome.outlet_volume));
    REQUIRE(none_negative(outcome.from_mouth));
    REQUIRE(outcome.to_depth >= 0);
    for (std::size_t i = 0; i < drain.stations().size(); ++i) {
      // Stone without a pipe that is given a pipe's water passes it up through its cap by Darcy's law, with
      // whatever head that needs; under a sealed cap there is no bound.
      const Station& station = drain.stations()[i];
      const Run& run = layout.runs[static_cast<std::size_t>(station.run)];
      const bool stone_alone = station.trench_width > 0 && run.pipe.diameter <= 0;
      const double head =
          stone_alone && sum(load.pipe) > 0 ? sum(load.pipe) / cap_conductance(run, station) : 0;
      const double level = drain.stone_level()[i];
      REQUIRE((level >= bottom - 1e-6 && level < 200 + head));
    }
    for (double level : drain.pipe_level()) REQUIRE((level >= bottom - 1e-6 && level < 200));
    for (double flow : drain.pipe_flow()) REQUIRE(std::isfinite(flow));
    for (std::size_t r = 0; r < layout.runs.size(); ++r)
      REQUIRE(drain.run_state(static_cast<int>(r)).stored >= -1e-8);
    for (std::size_t o = 0; o < layout.outlets.size(); ++o) {
      REQUIRE(drain.outlet_stored(static_cast<int>(o)) >= -1e-8);
      REQUIRE(drain.outlet_flow(static_cast<int>(o)) >= 0);
    }
    REQUIRE(drain.stored() >= -1e-8);
  }
  REQUIRE(std::abs(in - out - drain.stored()) <= 1e-12 * moved + 1e-12);
}

} // namespace

TEST_CASE("networks at random never fail a step") {
  check_network(GENERATE(range(1U, 61U)));
}

TEST_CASE("a thousand networks at random never fail a step", "[.thousand]") {
  check_network(GENERATE(range(1U, 1001U)));
}
