// What works ask for once they lie in the ground.
#pragma once
#include <string>
#include <vector>

#include <lowspot/site/design.hpp>

namespace lowspot::study {

// A phrase for each kind of cap, intake, outlet and shaped ground of a design, none twice. Empty for works
// that ask for nothing.
std::vector<std::string> upkeep_of(const site::Design& design);

} // namespace lowspot::study
