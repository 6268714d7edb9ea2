// Which member of the chain cap, fabric, stone, slots, pipe, outlet limits a run at a moment.
#pragma once
#include <lowspot/drain/drain.hpp>

namespace lowspot::drain {

// Head lost in each member [m], at the worst station of the run.
struct HeadLosses {
  double cap = 0;            // from water standing on the ground down to the stone
  double fabric = 0;         // from the soil's face into the stone
  double stone = 0;          // along the stone, beyond the fall of its bottom
  double slots = 0;          // from the stone into the pipe
  double pipe = 0;           // along the pipe, beyond what its own fall gives
  double outlet = 0;         // held at the foot above what a free end would hold
  bool under_stress = false; // water stands on the trench, or the pipe is full, or the stone is half full
};

// The member with the largest loss, or nothing when the run is not under stress or loses less than 5 mm
// everywhere.
Limit limiting_member(const HeadLosses& losses);

} // namespace lowspot::drain
