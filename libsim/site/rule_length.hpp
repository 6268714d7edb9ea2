// Lengths that rules of work state in whole feet.
#pragma once
#include <string>

namespace lowspot::site {

// The yard's own unit first: "5 ft", or "1.5 m (5 ft)".
std::string rule_length(double feet, bool yard_in_feet);

} // namespace lowspot::site
