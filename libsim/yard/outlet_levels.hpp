// What a drain's levels say about its ends, in the yard's units: outlets and fittings against the pipes that
// lead to them.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include <lowspot/drain/layout.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::yard {

// The fall of a run that gives none [m/m]: what takes it from its head to the outlet's invert, or 1 %. Throws
// InputError when the outlet lies above the head, or far below the ground.
double fall_to_outlet(const site::Site& site, const site::Design& design, const site::Run& run,
                      double head_invert, const std::function<double(Point)>& ground_at);

// Of runs whose inverts are known (`built`, in the order of the design). Throws InputError for an outlet
// above the foot of its run or deeper under the ground than any trench, and for a run that begins above the
// foot of one that feeds it. Appends a warning where water drops from a pipe to its outlet.
void check_outlet_levels(const site::Site& site, const site::Design& design,
                         const std::vector<drain::Run>& built, const std::function<double(Point)>& ground_at,
                         std::vector<std::string>& warnings);

} // namespace lowspot::yard
