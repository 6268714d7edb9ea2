// One value a cell (or a face), in grid order.
#pragma once
#include <cstdint>
#include <vector>

namespace lowspot {
using Field = std::vector<double>;
using Mask = std::vector<std::uint8_t>;
} // namespace lowspot
