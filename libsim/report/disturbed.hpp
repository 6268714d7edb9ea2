// How much ground the works of a design disturb.
#pragma once
#include <lowspot/report/sheet.hpp>

namespace lowspot::report {

// Plan area [m2] of trenches, pits, gutters, improved soil and ground given another shape, the sides of
// swales and berms included. What stands already disturbs nothing more; what two works share is counted for
// each.
double disturbed_area(const SheetScene& scene);

} // namespace lowspot::report
