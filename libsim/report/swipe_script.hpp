// The script of the map that is swiped between two designs.
#pragma once
#include <string_view>

namespace lowspot::report {

// The text inside the script element.
std::string_view swipe_script();

} // namespace lowspot::report
