// The books of one step: from the flows at the solved thicknesses to what each cell gained, to round-off.
#pragma once
#include <lowspot/perched/balance.hpp>

namespace lowspot::perched {

// net = supply - what flows out - leakage, per cell [m]; never below - falling * start. Leakage yields first:
// an emptied cell leaks only what it has. Where the solver's tolerance still asks a cell for more than it
// holds, its outflows are cut in proportion, and so are the receipts of those they went to: nothing is made
// or lost.
void close_books(const Balance& balance, const Field& saturated, Flows& flows, Field& leakage, Field& net);

} // namespace lowspot::perched
