// What a careful person would still go and find out before relying on the answer.
#pragma once
#include <string>
#include <vector>

#include <lowspot/site/site.hpp>

namespace lowspot::site {

// One sentence a thing that is UNKNOWN and bears on the answer: missing levels, a tight layer nobody tested,
// no design.
std::vector<std::string> unknowns(const Site& site);

} // namespace lowspot::site
