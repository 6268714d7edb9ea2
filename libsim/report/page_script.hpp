// The script of the report: plays the frames.
#pragma once
#include <string_view>

namespace lowspot::report {
// The text inside the script element.
std::string_view page_script();
} // namespace lowspot::report
