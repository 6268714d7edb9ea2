// Water between the ground and the stone, down and up, and between the stone and the soil beside it.
#pragma once
#include <limits>

#include <lowspot/drain/chamber.hpp>
#include <lowspot/drain/drain.hpp>

namespace lowspot::drain {

// Conductance of the cap of a station [m2/s]: Darcy over its depth; through 5 cm of stone where it is open.
double cap_conductance(const Run& run, const Station& station);

// The rate [m3/s] at which a cap passes water down with `ponded` metres on it, and its slope in the level
// below [m2/s]: Darcy with the head at the top of the cap against either air under it (gradient 1 + ponded /
// depth) or the stone level where that stands higher. conductance: of the part that lies open, see
// cap_conductance(); `head` [m]: of the water on the ground over the level below. cap_depth: 0 where the
// stone is open, which passes its own conductivity at unit gradient.
Curve cap_flow(double conductance, double cap_depth, double ponded, double head);

// Conductance of one metre of trench, both sides, at full wetted height D of soil [m2/s per m]: fabric
// (permittivity / clogging * D) in series with soil from the wall to the mean of its cell (K D / distance,
// the distance a quarter of the cell). of_fabric: the share of the fabric that is there for this way, where
// other ways end at it too. soil_top: elevation of the ground of that soil [m], from which down to the trench
// bottom it lies bare; not a number: that of the station.
double wall_conductance_of(const Run& run, const Station& station, double soil_conductivity,
                           double soil_depth, double cell, double of_fabric = 1,
                           double soil_top = std::numeric_limits<double>::quiet_NaN());

} // namespace lowspot::drain
