// Trees beside a trench.
#pragma once
#include <vector>

#include <lowspot/checks/works.hpp>
#include <lowspot/results/check_record.hpp>

namespace lowspot::checks {

// Share (0..1) of a circle of `radius` [m] round `trunk` that trenches cut off from it: what lies behind a
// trench as seen from the trunk, the trench itself included. Roots run straight out and end where they are
// cut: an upper figure, since roots also pass under a shallow trench.
double share_cut_off(const Point& trunk, double radius, const std::vector<Polyline>& trenches,
                     const std::vector<double>& widths);

// Appends one record a tree, of the trench that comes nearest to it; none where there are no trenches.
void check_roots(const site::Site& site, const Works& works, std::vector<results::CheckRecord>& list);

} // namespace lowspot::checks
