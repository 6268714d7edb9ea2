// What the soil takes in. Its capacity is a mean over a stretch that may span several steps of the surface;
// what the ground gave meanwhile waits at the top of the columns, counted with the soil, until the stretch
// ends.
#include <algorithm>

#include <lowspot/yard/state.hpp>

namespace lowspot::yard {
namespace {
// s: the longest stretch while water flows. The capacity is the exact mean over it for ground that stands
// under water, and no limit for ground that does not pond; in between the error is of the second order.
constexpr double soil_step = 30;
} // namespace

// Takes the capacity for a stretch that begins with a step of dt [s].
void Yard::State::renew_soil_capacity(double dt) {
  const bool resting = flow.at_rest();
  soil_span = resting ? dt : std::max(dt, soil_step);
  for (std::size_t c = 0; c < sealed.size(); ++c)
    if (flow.depth()[c] <= wet_ground) sealed[c] = 0;
  soil::Meanwhile meanwhile;
  if (resting) meanwhile = {leaving, false};
  meanwhile.sealed = sealed;
  meanwhile.sinking = sinking;
  soil::infiltration_capacity(columns, saturated, flow.depth(), supply, soil_span, soil_capacity, meanwhile);
  if (resting && !water_stays()) {
    meanwhile.dry_ground = true;
    soil::infiltration_capacity(columns, saturated, flow.depth(), supply, soil_span, soil_capacity,
                                meanwhile);
  }
  for (std::size_t c = 0; c < soil_capacity.size(); ++c) {
    if (!ground.active[c]) continue;
    // Below a slab the soil takes what the joints let through.
    const double through_joints =
        ground.jointed.empty() ? 0.0 : std::min(soil_capacity[c] * ground.jointed[c], ground.joint_intake[c]);
    soil_capacity[c] = (soil_capacity[c] * ground.pervious[c] + through_joints) * (1 - trench.share[c]);
  }
}

// Whether all water stays where it is while the yard rests: films hold what arrives, pools fall.
bool Yard::State::water_stays() const {
  constexpr double pool = 1e-3; // m
  const std::span<const double> depth = flow.depth();
  double pools_gain = 0;
  for (std::size_t c = 0; c < supply.size(); ++c) {
    if (!ground.active[c] || (supply[c] <= 0 && depth[c] <= 0)) continue;
    const double gain = supply[c] - soil_capacity[c];
    const double mobile = depth[c] - ground.depression_storage[c];
    if (mobile > pool)
      pools_gain += gain;
    else if (gain > 0 && mobile + gain * soil_span > 0)
      return false;
  }
  return pools_gain <= 0;
}

// Ends the stretch: the columns take in what waits. drained: s for which gravity has drained them, 0 where
// that can wait, since it is exact for any length of time.
void Yard::State::soak(double drained) {
  if (since_soil > 0)
    soil::infiltrate(columns, saturated, soil_water, since_soil, recharge, sealed);
  else
    std::fill(recharge.begin(), recharge.end(), 0.0);
  if (drained > 0) soil::drain_by_gravity(columns, saturated, drained, recharge, sealed);
  std::fill(soil_water.begin(), soil_water.end(), 0.0);
  since_soil = 0;
  net.swap(recharge);
  std::fill(pressing.begin(), pressing.end(), 0.0);
  apply_net(Store::soil, drained > 0 && flow.at_rest());
  for (std::size_t c = 0; c < sealed.size(); ++c)
    if (ground.pervious[c] > 0 && saturated[c] >= columns.depth[c] && flow.depth()[c] > wet_ground)
      sealed[c] = 1; // what stands on a slab seals nothing under it
}

} // namespace lowspot::yard
