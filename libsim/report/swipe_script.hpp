// The script of the map that is swiped between two designs.
#pragma once
#include <string_view>

namespace lowspot::report {

std::string_view swipe_script();

} // namespace lowspot::report
