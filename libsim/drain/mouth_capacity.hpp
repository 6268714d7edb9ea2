// What the mouths could take in over the next step, with all that the water below does meanwhile.
#pragma once
#include <span>

#include <lowspot/drain/look_ahead.hpp>

namespace lowspot::drain {

// What is known of the step before and of the ground.
struct MouthOutlook {
  std::span<const MouthWater> water; // one a mouth, or several
  std::span<const double> taken;     // per mouth: what came in in the last step [m3/s]
  std::span<const double> gives;     // per unknown: net flow out of it at the end of the last step [m3/s]
  std::span<const double> cap_taken; // per station: what came in through the cap in the last step [m3/s]
  std::span<const double>
      cap_finds;      // per station: see find_cap_capacity(); empty: caps take in what they took
  AroundDrain around; // source: all that came in in the last step, what was taken too
};

// The rate [m3/s] at which each entry of outlook.water could go in on average over dt seconds, by
// mouth_intake() for the level below it. While the chamber has room for what comes, that is the level at the
// start. Where it might fill, the network is moved ahead on trial with its mouths in the balance, and with
// its caps, so that the level answers to what comes in. Where a trial does not converge: no more than the
// chamber has room for and what left it last.
void find_mouth_capacity(const Network& network, const SolverState& state, const MouthOutlook& outlook,
                         double dt, Workspace& work, std::span<double> capacity);

} // namespace lowspot::drain
