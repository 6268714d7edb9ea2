// The brink: where slow water comes to a steeper reach, a drop or an emptier vessel, it passes its critical
// depth, and what lies beyond draws it no lower (Chow 1959, chapter 9).
#pragma once
#include <optional>

#include <lowspot/drain/pipe_section.hpp>

namespace lowspot::drain {

// A reach of pipe whose upper end gives: reach_flow() under the slope bed + push * (depth_above - depth at
// the end).
struct BrinkReach {
  double conveyance = 0;       // m3/s
  double conveyance_slope = 0; // d conveyance / d depth_above [m2/s]
  double bed = 0;              // fall of the pipe [m/m]
  double push = 0;             // gradient for every metre of depth between the ends, >= 0 [1/m]
  double blur = 0;             // see reach_flow()
  double drag = 0;             // likewise [s/m3]
  double drag_slope = 0;       // d drag / d depth_above [s/m4]
};

// What passes the brink.
struct BrinkFlow {
  double depth = 0; // at the end: critical for q [m]
  double q = 0;     // m3/s
  double slope = 0; // d q / d depth_above [m2/s]
};

// The flow with critical depth at the end, where that depth lies between `depth_beyond` and `depth_above`
// [m]; none where the water beyond is deeper and holds the flow back, or the reach so steep that its water is
// fast all along.
std::optional<BrinkFlow> flow_over_brink(const Section& section, const BrinkReach& reach, double depth_above,
                                         double depth_beyond);

} // namespace lowspot::drain
