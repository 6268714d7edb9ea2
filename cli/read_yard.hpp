// The site file with the catalogue that belongs to it.
#pragma once
#include <string>

#include <lowspot/site/site.hpp>

#include "commands.hpp"

namespace lowspot::cli {

// Reads the site file. Its warnings stay in the context, so that an error met later can show them beside
// itself: what looks odd is often the cause of what cannot be computed. Throws InputError.
site::Site read_yard(Context& context, const std::string& where);

} // namespace lowspot::cli
