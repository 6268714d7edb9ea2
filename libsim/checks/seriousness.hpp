// Which failed check is to be named first.
#pragma once
#include <string>
#include <vector>

namespace lowspot::checks {

// The ids of all checks: what can hurt somebody or bring a building down first, then what the works cannot do
// without and what falls on others, then what costs a part of their use, what only asks for upkeep last.
const std::vector<std::string>& by_seriousness();
// Place of an id in that order; after all of them where it is not known.
std::size_t seriousness(const std::string& id);

} // namespace lowspot::checks
