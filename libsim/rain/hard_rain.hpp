// Rain that no yard is planned for: the mark of a slip in its unit.
#pragma once
#include <string>

namespace lowspot::rain {

// Words such as "254 mm (10 in)": a record may be in either unit, and so may the yard.
std::string depth_in_both_units(double depth);
// A part of a sentence on a depth [m] in a time [s] that is over half of the hardest rain ever measured;
// empty where it is not.
std::string near_the_hardest(double depth, double duration);

} // namespace lowspot::rain
