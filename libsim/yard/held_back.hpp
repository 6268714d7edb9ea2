// Outlets that give nothing away before water stands higher than the ground where it comes in.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include <lowspot/drain/layout.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::yard {

// A pop-up opens, and a pipe that ends under water runs, only once water in the drain stands above the lid or
// the level outside. Warns where that is above the ground at a trench, a grate or the foot of a gutter which
// leads there: a lid or level in another unit or from another benchmark, or a pop-up set too high.
std::vector<std::string> warn_of_held_back(const site::Site& site, const drain::Layout& layout,
                                           const std::function<double(Point)>& ground_at);

} // namespace lowspot::yard
