// How long the next step may be: seconds in a burst, minutes while pools drain away, longer in a dry spell.
#include <algorithm>

#include <lowspot/yard/state.hpp>

namespace lowspot::yard {
namespace {
constexpr double storm_step = 10;        // s: infiltration and cap follow the rain within it
constexpr double film_step = 30;         // s: rain is over, films still run off
constexpr double intake_step = 2;        // s: water runs into a grate or channel
constexpr double level_intake_step = 10; // s: the same out of a pool at rest
constexpr double hour = 3600;
} // namespace

double Yard::State::choose_step(double until) const {
  const double dry_for = time - last_rain;
  const bool raining = rain.at(time) > 0;
  double dt = routed ? routed_storm_step : storm_step;
  if (!raining && flow.at_rest()) {
    const bool drain_runs = drain && drain->stored() > 1e-3;
    if (dry_for < 6 * hour)
      dt = drain_runs ? 60 : 300;
    else if (dry_for < 48 * hour)
      dt = drain_runs ? 300 : 600;
    else
      dt = 900;
  } else if (!raining && dry_for > hour) {
    dt = std::max(dt, film_step);
  }
  if (drain && mouths_are_wet(*drain, flow.depth(), mouths))
    dt = std::min(dt, !raining && flow.at_rest() ? level_intake_step : intake_step);
  dt = std::min(dt, rain.next_change(time) - time);
  for (const EdgeSupply& inflow : edge_supplies) {
    const auto next = std::upper_bound(inflow.time.begin(), inflow.time.end(), time);
    if (next != inflow.time.end()) dt = std::min(dt, *next - time);
  }
  // A short last step before an output, so that the flows reported are those of the moment and not of the
  // step.
  const double left = until - time;
  const double moment = std::min(1.0, dt / 4);
  if (dt >= left) return left > 2 * moment && !flow.at_rest() && left > 2 ? left - moment : left;
  if (left - dt < moment) return left / 2;
  return dt;
}

double Yard::State::perched_interval() const {
  return rain.at(time) > 0 || !flow.at_rest() ? 60 : 0;
}

} // namespace lowspot::yard
