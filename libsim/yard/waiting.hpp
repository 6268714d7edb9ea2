// Water that comes onto the ground at the end of a step: out of full soil, full trenches and outlets.
#pragma once
#include <cstddef>
#include <vector>

namespace lowspot::yard {

// By cell, in metres. It flows on at the rate at which it came: a step of a second after one of ten would
// otherwise make a rush of it.
struct WaitingWater {
  std::vector<double> water;      // all that waits
  std::vector<double> from_drain; // the part of it that comes out of the drain
  std::vector<double> kept;       // what waited already before the last step ended
  std::vector<double> span;       // s over which it was to flow on when last asked
};

// Nothing, on so many cells.
WaitingWater no_waiting_water(std::size_t cells);

// What a cell lets go in a step [m/s].
struct Arriving {
  double all = 0;        // m/s
  double from_drain = 0; // m/s, the part of it that comes out of the drain
};

// Takes from `waiting` what flows on from a cell in a step of `dt` after one of `before` [s]: as much per
// second as came in that, and what had to wait longer within the time set for it then.
Arriving let_go(WaitingWater& waiting, std::size_t cell, double before, double dt);

} // namespace lowspot::yard
