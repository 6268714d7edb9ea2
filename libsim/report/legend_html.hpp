// The legend of a map as text and colours in the page.
#pragma once
#include <string>

#include <lowspot/report/scale.hpp>

namespace lowspot::report {

// "Depth of water, in: 0.25-0.5 ... 4 and more"; `id` may be empty.
std::string legend_html(const Scale& scale, const std::string& id = "");

} // namespace lowspot::report
