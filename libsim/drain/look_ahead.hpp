// A drain moved ahead on trial, to see what it would take in from the ground.
#pragma once
#include <optional>
#include <span>

#include <lowspot/drain/implicit_step.hpp>

namespace lowspot::drain {

// What is known of the water around a drain.
struct AroundDrain {
  std::span<const double> source;    // per unknown: what comes in but from the ground on trial [m3/s]
  std::span<const double> ponded;    // m on the ground, per station
  std::span<const double> on_mouths; // m on the ground, per mouth
  std::size_t outlets = 0;           // of the layout
};
// The drain at the end of a trial.
struct Ahead {
  SolverState state; // levels and volumes
  Departures gone;   // what left, and what came in from the ground
};

// Moves a copy of the state ahead by dt [s], as advance_network() does. None where that does not converge:
// the step itself, whose water is given and does not answer to the levels, may go all the same.
std::optional<Ahead> look_ahead(const Network& network, const SolverState& state, const AroundDrain& around,
                                const GroundAhead& ground, double dt, Workspace& work);

} // namespace lowspot::drain
