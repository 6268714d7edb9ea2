// Active cells by rising elevation, in linear time.
#pragma once
#include <span>
#include <vector>

#include <lowspot/base/field.hpp>

namespace lowspot::relief {

// Cells with active != 0 in ascending order of elevation [m], equal ones by index. Radix sort on the
// elevation reduced to 32 bits, then the few that the reduction made equal by their full value.
std::vector<int> ordered_cells(std::span<const std::uint8_t> active, std::span<const double> elevation);

} // namespace lowspot::relief
