// Names made safe for variables in files.
#pragma once
#include <string>
#include <vector>

namespace lowspot::results {

// Lower-case letters, digits and single underscores, beginning with a letter, 82 at most: "3 in + sod"
// becomes "d_3_in_sod".
std::string slug(const std::string& name);
// One slug a name, in order, made different by a number where two would be equal.
std::vector<std::string> slugs(const std::vector<std::string>& names);

} // namespace lowspot::results
