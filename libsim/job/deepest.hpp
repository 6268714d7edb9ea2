// How deep a design is dug at its deepest, for those who climb in.
#pragma once
#include <lowspot/job/cut_sheet.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::job {

// Of the dry wells and pump basins that are dug for it, below the ground [m]; 0 without any, or where they
// all stand from an earlier stage.
double deepest_pit(const site::Design& design);
// Of these and of the trenches of its sheet [m].
double deepest_dug(const CutSheet& sheet, const site::Design& design);

} // namespace lowspot::job
