// The look of the report: light, dark, phone and paper.
#pragma once
#include <string>

namespace lowspot::report {
// metric: prints on A4, otherwise on letter.
std::string page_style(bool metric);
} // namespace lowspot::report
