#include <lowspot/yard/waiting.hpp>

#include <algorithm>

namespace lowspot::yard {
namespace {
constexpr double least = 1e-9; // m: less goes at once, so that a tail ends
} // namespace

WaitingWater no_waiting_water(std::size_t cells) {
  const std::vector<double> nothing(cells, 0.0);
  return {nothing, nothing, nothing, nothing};
}

Arriving let_go(WaitingWater& waiting, std::size_t cell, double before, double dt) {
  double& water = waiting.water[cell];
  double& from_drain = waiting.from_drain[cell];
  double& span = waiting.span[cell];
  if (!(water > 0)) return {};
  const double longest = std::max(before, span), came = water - waiting.kept[cell];
  span = came > 0 ? std::clamp(before * (water / came), before, longest) : longest;
  const double share = dt < span && water > least ? dt / span : 1;
  const Arriving arriving = {water * share / dt, from_drain * share / dt};
  if (share < 1) {
    water -= water * share;
    from_drain -= from_drain * share;
  } else {
    water = from_drain = span = 0;
  }
  waiting.kept[cell] = water;
  return arriving;
}

} // namespace lowspot::yard
