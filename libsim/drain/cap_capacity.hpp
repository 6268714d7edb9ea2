// What the caps could pass over the next step, with all that the water below does meanwhile.
#pragma once
#include <span>

#include <lowspot/drain/look_ahead.hpp>

namespace lowspot::drain {

// What is known of the step before and of the ground. One entry a station unless said.
struct CapOutlook {
  std::span<const double> taken;   // m3/s that came through the cap in the last step
  std::span<const double> offered; // m3/s that could have come
  std::span<const double> found;   // m3/s that would have come had the whole cap found what its water did
  AroundDrain around;              // source: all that came in in the last step, `taken` too
};

// The rate [m3/s] at which each cap could pass water down on average over dt seconds, by Darcy's law for the
// level under it. While the stone has room for what comes, that is the level at the start. Where it might
// fill, the level answers to the inflow within the step: the network is moved ahead from `state`, which stays
// as it is, with water standing on all caps. A cap that took less than it was offered in the last step is
// taken to find up to twice what it `found`, or what stands on it; it is offered what the law gives, as far
// as there is room left. Where that does not converge: by the level at the start, but no more than came in
// the last step and what there is room for. `work` is scratch. finds: what each cap found on the ground in
// the last step [m3/s], infinite where the ground had all that was offered.
void find_cap_capacity(const Network& network, const SolverState& state, const CapOutlook& outlook, double dt,
                       Workspace& work, std::span<double> capacity, std::span<double> finds);

} // namespace lowspot::drain
