// An outlet of a design by its name.
#pragma once
#include <string>

#include <lowspot/site/design.hpp>

namespace lowspot::site {

// Null where no outlet of the design has this name, as where a run leads to a fitting.
const Outlet* outlet_named(const Design& design, const std::string& name);

} // namespace lowspot::site
