// What works ask for once they lie in the ground.
#pragma once
#include <string>
#include <vector>

#include <lowspot/site/site.hpp>

namespace lowspot::study {

// A phrase for each kind of cap, intake, outlet and shaped ground of a design, none twice, and for gutters
// that are led into it, be it by the site file alone. Empty for works that ask for nothing.
std::vector<std::string> upkeep_of(const site::Site& site, const site::Design& design);

} // namespace lowspot::study
