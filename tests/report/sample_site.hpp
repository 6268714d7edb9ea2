// The site that goes with tests/results/sample_comparison.hpp.
#pragma once
#include <lowspot/site/site.hpp>

#include "results/sample_comparison.hpp"

namespace sample {

// Sides in feet.
Polygon rectangle(double x0, double y0, double x1, double y1);
// A leg along the patio and a carrier to the fence.
lowspot::site::Design drain_design();
// The yard itself, with that design.
lowspot::site::Site site();

} // namespace sample
