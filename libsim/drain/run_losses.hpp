// Heads lost along one run, read from the solver's levels and flows.
#pragma once
#include <span>

#include <lowspot/drain/balance.hpp>
#include <lowspot/drain/limits.hpp>

namespace lowspot::drain {

// What the run's neighbours did during the last step, one entry a station.
struct RunLoads {
  std::span<const double> through_cap; // m3/s
  std::span<const double> from_soil;   // m3/s that come through the fabric
  std::span<const double> soil_wall;   // m of the wall's height that from_soil passes; 0: not known
  std::span<const double> ponded;      // m
};

// At the worst station of the run [m].
HeadLosses losses_of(const Layout& layout, const Network& network, std::span<const double> level,
                     const Flows& flows, const RunLoads& loads, int run);

} // namespace lowspot::drain
