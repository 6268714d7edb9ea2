// Which member of the chain cap, fabric, stone, slots, pipe, outlet limits a run at a moment.
#pragma once
#include <lowspot/drain/drain.hpp>

namespace lowspot::drain {

// The member with the largest loss, or nothing when the run is not under stress or loses less than 5 mm
// everywhere.
Limit limiting_member(const HeadLosses& losses);

} // namespace lowspot::drain
