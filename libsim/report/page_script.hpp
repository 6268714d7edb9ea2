// The script of the report: plays the frames.
#pragma once
#include <string_view>

namespace lowspot::report {
std::string_view page_script();
} // namespace lowspot::report
