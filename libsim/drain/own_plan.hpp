// What of a trench's plan is its own: where a trench leads into a pit, or two cross, the ground is dug once.
#pragma once
#include <lowspot/drain/drain.hpp>

namespace lowspot::drain {

// Whether a place lies in the pit of a dry well or the basin of a pump, taken to be round.
bool in_pit(const Layout& layout, const Point& at);

// How many other trenches lie over a place in the trench of a run. A run that goes on where this one ends,
// round a bend of no more than a right angle and with no third one there, counts as the same: what both share
// on the inside of the bend makes up for what both leave out on its outside.
int other_trenches(const Layout& layout, int run, const Point& at);

// Share of a station's plan that is stone of its own: none in a pit, an equal share where trenches lie over
// each other. A little is always left, so that every station can hold water.
double own_share(const Layout& layout, const Station& station);

} // namespace lowspot::drain
