// A made-up comparison to test writers and pictures with: a bowl beside a patio that fills in a storm and
// empties at a steady rate, slowly as it is and faster with a drain. No program computed it; it only has the
// shape of a result.
#pragma once
#include <lowspot/results/record.hpp>

namespace sample {

using namespace lowspot;
using namespace lowspot::results;

constexpr double foot = 0.3048;
constexpr double hour = 3600;
constexpr double rain_hours = 6;
constexpr double end_hours = 6 + 5 * 24;

// 60 by 40 cells of a foot.
Grid grid();
// The yard and its storm, before any run.
Comparison yard();
// The same with two designs: as it is and drained.
Comparison comparison();

} // namespace sample
