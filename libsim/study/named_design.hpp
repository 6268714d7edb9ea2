// Which design of a yard is meant.
#pragma once
#include <string>

#include <lowspot/site/site.hpp>

namespace lowspot::study {

// The design named, by its full name or by its own where it is a later stage; without a name the only one.
// Throws InputError, with the names that there are, when there is none, several and no name, or no such name.
const site::Design& named_design(const site::Site& site, const std::string& name);

} // namespace lowspot::study
