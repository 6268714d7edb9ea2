// Lengths that rules of work and the trade state in whole feet and inches.
#pragma once
#include <string>

namespace lowspot::site {

struct Site;

// The yard's own unit first: "5 ft", or "1.5 m (5 ft)".
std::string rule_length(double feet, bool yard_in_feet);
// A usual size of works, whole inches in the trade, as one would build it: "12 in", or "300 mm" in a yard in
// metres, where an inch is taken as 25 mm.
std::string usual_size(double inches, bool yard_in_feet);
// The same, for this yard.
std::string usual_size(double inches, const Site& site);
// A size from the catalogue [m], likewise where it is in inches there, to a quarter; else as it is.
double usual_size_of(double metres, bool yard_in_feet);
// The same, for this yard.
double usual_size_of(double metres, const Site& site);

} // namespace lowspot::site
