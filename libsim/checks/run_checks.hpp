// The checks that need the storm to be run.
#pragma once
#include <vector>

#include <lowspot/results/record.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::checks {

// Of each run at its greatest flow: how full it is, whether it keeps silt moving, and how fast its water
// leaves a free outlet (uniform flow, or critical depth where that is faster). And of each side of the yard:
// whether more leaves over it than before, at once or in all; what an outlet at the limit of the yard sends
// out counts with the side it lies on (its greatest flow is added whatever the time: an upper figure). And of
// dry wells and rain gardens when they are empty again after the rain, which ends at end_of_rain [s]. Throws
// InputError as check_design().
std::vector<results::CheckRecord> check_run(const site::Site& site, const terrain::Ground& ground,
                                            const site::Design& design, const results::DesignRecord& as_is,
                                            const results::DesignRecord& record, double end_of_rain);

// Mean speed of water in a circular pipe [m/s]: uniform flow (Manning 1891), or that of the full pipe where
// it cannot carry `flow` [m3/s] with a free surface.
double pipe_velocity(double diameter, double manning_n, double fall, double flow);
// The same at a free end, which draws the water down to critical depth where the fall is mild.
double end_velocity(double diameter, double manning_n, double fall, double flow);

} // namespace lowspot::checks
