// Water that leaves the yard, as tables write it.
#pragma once
#include <string>

#include <lowspot/report/units.hpp>

namespace lowspot::report {

// Three digits, but no finer than a tenth of the unit: nobody measures less over an edge.
std::string volume_figure(double volume, const Unit& unit);

} // namespace lowspot::report
