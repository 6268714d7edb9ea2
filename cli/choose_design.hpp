// Which design of a yard a command is about.
#pragma once
#include <string>

#include <lowspot/site/site.hpp>

namespace lowspot::cli {

// The design named, or the only one. Throws InputError when there is none, several and no name, or no such
// name.
const site::Design& choose_design(const site::Site& site, const std::string& name);

} // namespace lowspot::cli
