// What the permit desk reads of the water over each lot line.
#pragma once
#include <string>

#include <lowspot/report/sheet.hpp>

namespace lowspot::report {

// A table of edges, lines and outlets before and after, sides with outlets summed, and what gets more.
std::string permit_flows(const SheetScene& scene);
// How many checks of what leaves over a side fail with the works; 0 where nothing is proposed.
std::size_t failed_sides(const SheetScene& scene);

} // namespace lowspot::report
