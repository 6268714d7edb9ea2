// One value a cell (or a face), in grid order.
#pragma once
#include <cstdint>
#include <vector>

namespace lowspot {
// Numbers, in the unit that the name says.
using Field = std::vector<double>;
// Marks: 1 or 0, unless the name says more.
using Mask = std::vector<std::uint8_t>;
} // namespace lowspot
