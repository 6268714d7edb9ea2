// What the caps could pass over the next step, with all that the water below does meanwhile.
#pragma once
#include <span>

#include <lowspot/drain/implicit_step.hpp>

namespace lowspot::drain {

// What is known of the step before and of the ground. One entry a station unless said.
struct CapOutlook {
  std::span<const double> taken;     // m3/s that came through the cap in the last step
  std::span<const double> offered;   // m3/s that could have come
  std::span<const double> source;    // per unknown: all that came in in the last step, `taken` too [m3/s]
  std::span<const double> ponded;    // m on the ground
  std::span<const double> on_mouths; // m, per mouth
  std::size_t outlets = 0;           // of the layout
};

// The rate [m3/s] at which each cap could pass water down on average over dt seconds, by Darcy's law for the
// level under it. While the stone has room for what comes, that is the level at the start. Where it might
// fill, the level answers to the inflow within the step: the network is moved ahead from `state`, which stays
// as it is, with water standing on all caps. A cap that took less than it was offered in the last step is
// taken to find up to twice as much, or what stands on it; it is offered what the law gives, as far as there
// is room left. `work` is scratch. Errors: NumericsError of advance_network().
void find_cap_capacity(const Network& network, const SolverState& state, const CapOutlook& outlook, double dt,
                       Workspace& work, std::span<double> capacity);

} // namespace lowspot::drain
