// Roof water that is led into a drain.
#pragma once
#include <vector>

#include <lowspot/site/site.hpp>

namespace lowspot::yard {

// The downspouts whose water goes into the works of a design: where its own changes send them, else where the
// site file does. What leads to something that the design lacks runs onto the ground.
std::vector<const site::Downspout*> tied_in(const site::Site& site, const site::Design& design);

} // namespace lowspot::yard
