// Implicit Euler steps of the network: Newton's method inside, the length of the step by its error.
#pragma once
#include <span>
#include <vector>

#include <lowspot/drain/balance.hpp>

namespace lowspot::drain {

// What the solver carries from step to step. One entry an unknown unless said.
struct SolverState {
  std::vector<double> level;  // m
  std::vector<double> book;   // m3: what is stored, changed by flows alone
  std::vector<double> pace;   // rate of change of the level in the last step [m/s]
  std::vector<double> weight; // per pipe reach: share of the depth gradient that drives flow
  std::vector<double> lean;   // per pipe store: depth at its downstream end over that in its middle, less one
  std::vector<double> gathered; // per pipe store: what comes in through its openings a metre [m2/s]
  std::vector<char> open_pipe;  // per pipe store: a downspout or inlet enters, so that water can rise out
  std::vector<double> held;     // per place: level that holds an outlet back [m]
  std::vector<double>
      outside; // per place: level of the water that stands at an outlet [m], set by the caller
  std::vector<char> pump_runs; // per pump
  double next_step = 1;        // s
  double time = 0;             // s since the drain was made
};

// Volumes that left the network [m3]: per stone store, pipe store, outlet, mouth.
struct Departures {
  std::vector<double> rise, overflow, outlet, mouth; // m3, one entry a store, outlet or mouth
  std::vector<double> cap;     // m3 that came through caps on trial, one entry a stone store
  std::vector<double> entered; // m3 that came through mouths on trial, as in Flows::entering
  double to_depth = 0;         // through trench bottoms and out of chambers [m3]
  // Sums since they were made, within the network [m3]: past the foot of each run, and what each place passed
  // on.
  std::vector<double> foot, passed;
};

// Every store empty and every level at its bottom.
SolverState dry_state(const Network& network);

// Reused arrays.
struct Workspace {
  // Memory of the size that this network needs.
  explicit Workspace(const Network& network);
  Balance balance; // with its matrix
  // One entry an unknown.
  std::vector<double> trial;       // level [m]
  std::vector<double> residual;    // misfit of the volume [m3], then change of the level [m]
  std::vector<double> source;      // m3/s, filled in by the caller of advance_network()
  std::vector<double> last_change; // of the level [m]
};

// An empty set of departures of the right sizes.
Departures no_departures(const Network& network, std::size_t outlets);

// Advances by dt seconds in as many implicit steps as it needs. source [unknowns]: m3/s; ponded [stations]
// and on_mouths [mouths]: m; ground: on trial. Volumes are booked by flows: what
// Newton leaves over (under 1e-9 m3 a store) is carried into the next step, not lost. Throws NumericsError
// with time and station when a step of a millisecond does not converge.
void advance_network(const Network& network, std::span<const double> source, std::span<const double> ponded,
                     std::span<const double> on_mouths, double dt, SolverState& state, Workspace& work,
                     Departures& departures, const GroundAhead& ground = {});

} // namespace lowspot::drain
