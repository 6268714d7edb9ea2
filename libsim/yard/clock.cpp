// How long the next step may be: seconds in a burst, minutes while pools drain away, hours in a dry spell.
#include <algorithm>
#include <cmath>

#include <lowspot/yard/state.hpp>

namespace lowspot::yard {
namespace {
constexpr double storm_step = 10;        // s: infiltration and cap follow the rain within it
constexpr double film_step = 30;         // s: rain is over, films still run off
constexpr double intake_step = 2;        // s: water runs into a grate or channel
constexpr double level_intake_step = 10; // s: the same out of a pool at rest
constexpr double fed_step = 300; // s: a leak feeds ground at rest, whose soil is asked at the start of a step
constexpr double minute = 60, hour = 3600;

// The perched table may move this far in one of its steps [m]: its flow and its leakage then change by a few
// hundredths, and backward Euler errs by half of that at most. The routed method errs by more itself.
constexpr double table_move = 0.005, table_move_routed = 0.010;
constexpr double shortest_perched = 10; // s
constexpr double still = 1e-7;          // m3/s: a drain slower than this has stopped

// In rain routed water may flow for longer before soil and drain are asked again, while the share that they
// take of what arrives changes by no more than this from one step to the next. What a step takes is then off
// by half of that at most, and over a storm these errors add up to half a step of the change from its
// beginning to its end, since each carries the sign of the change.
constexpr double share_change = 0.1;
constexpr double storm_step_growth = 2;

// A pool may fall this far in a step: the head on the soil is that at the start of it.
constexpr double pool_fall = 0.001; // m
} // namespace

double Yard::State::longest_rest() const {
  const double dry_for = time - last_rain;
  const std::span<const double> depth = flow.depth();
  const bool pools = std::any_of(depth.begin(), depth.end(), [](double h) { return h > wet_ground; });
  const bool drain_runs = drain && drain->stored() > 1e-3 && drain_pace > still;
  double dt = dry_for > 48 * hour && !pools && !drain_runs ? hour
              : dry_for > 6 * hour                         ? 30 * minute
                                                           : 10 * minute;
  if (pool_pace * dt > pool_fall) dt = std::max(minute, pool_fall / pool_pace);
  // Water in the stone, too: the soil trades with the level at the start of the step.
  const double pace = std::max(table_pace, stone_pace), move = routed ? table_move_routed : table_move;
  if (pace * dt > move) dt = std::max(minute, move / pace);
  return last_perched > 0 ? std::min(dt, std::max(minute, 2 * last_perched)) : dt;
}

// The perched zone trades with soil and drain at the end of its own steps: no step is longer than those,
// which keeps water that rises or comes back from waiting.
double Yard::State::longest_routed() const {
  if (rain.at(time) <= 0) return routed_storm_step;
  double dt = std::min(perched_interval(), storm_step_growth * flows.dt);
  if (share_pace * dt > share_change) dt = share_change / share_pace;
  return std::max(routed_storm_step, dt);
}

double Yard::State::next_change() const {
  double change = rain.next_change(time);
  const auto note = [&](const std::vector<double>& times) {
    const auto next = std::upper_bound(times.begin(), times.end(), time);
    if (next != times.end()) change = std::min(change, *next);
  };
  for (const EdgeSupply& inflow : edge_supplies) note(inflow.time);
  // Between its times a level outside rises or falls evenly.
  if (drain)
    for (const auto& outlet : drain->layout().outlets) note(outlet.times);
  for (const Leak& leak : leaks)
    if (leak.until > time) change = std::min(change, leak.until);
  for (const Seep& seep : seeps) change = std::min(change, yard::next_change(seep, time));
  return change;
}

double Yard::State::choose_step(double until) const {
  const bool raining = rain.at(time) > 0;
  // Routed water that comes late in a step waits on the ground for the next, and in a step of a second open
  // stone would swallow all of it at once: over a drain there are even steps to the end.
  const bool even = routed && drain;
  const double left = until - time;
  double dt = routed ? longest_routed() : storm_step;
  if (!raining && flow.at_rest()) // even steps to the end rather than a sliver there
    dt = left / std::ceil(left / longest_rest() * (1 - 1e-12));
  else if (!raining && ((!drain && !routed) || time - last_rain > hour))
    dt = std::max(dt, film_step);
  if (drain && mouths_are_wet(*drain, flow.depth(), mouths))
    dt = std::min(dt, !raining && flow.at_rest() ? level_intake_step : intake_step);
  const double stretch = std::min(left, next_change() - time);
  dt = even ? stretch / std::ceil(stretch / dt * (1 - 1e-12)) : std::min(dt, stretch);
  if (std::abs(left - dt) < same_moment) dt = left;
  for (const Leak& leak : leaks)
    if (leak.until > time) dt = std::min(dt, fed_step);
  // A short last step before an output, so that the flows reported are those of the moment and not of the
  // step.
  const double moment = std::min(1.0, dt / 4);
  if (dt >= left) return !even && left > 2 * moment && !flow.at_rest() && left > 2 ? left - moment : left;
  if (left - dt < moment) return left / 2;
  return dt;
}

double Yard::State::perched_interval() const {
  if (rain.at(time) <= 0 && flow.at_rest()) return 0;
  // Trench and soil trade at the levels both had when the interval began.
  const double longest = drain ? minute : 5 * minute;
  double interval = table_pace * longest > table_move ? table_move / table_pace : longest;
  if (last_perched > 0) interval = std::min(interval, 2 * last_perched);
  return std::max(shortest_perched, interval);
}

} // namespace lowspot::yard
