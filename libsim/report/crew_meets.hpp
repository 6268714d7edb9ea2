// What a crew meets on its way along a trench.
#pragma once
#include <string>

#include <lowspot/report/sheet.hpp>

namespace lowspot::report {

// A list: cables and pipes that are crossed, roots that are cut, an end that may be buried, what the trench
// passes through.
std::string on_the_way(const SheetScene& scene);

} // namespace lowspot::report
