// From which depth on a trench endangers those who stand in it.
#pragma once
#include <string>

#include <lowspot/site/site.hpp>

namespace lowspot::site {

// The limit of the site by this name; null when it has none.
const catalog::PracticeLimit* limit_named(const Site& site, const std::string& name);

// A depth with its words.
struct TrenchRule {
  double depth = 0;    // m
  std::string written; // "5 ft", "1.5 m (5 ft)", or the town's own text
};
// Walls so high must be kept from caving in: `trench_depth` of the limits, else 5 ft (29 CFR 1926.652).
TrenchRule protected_from(const Site& site);
// A ladder or ramp must be in reach: `trench_way_out` of the limits, else 4 ft (29 CFR 1926.651).
TrenchRule way_out_from(const Site& site);
// "From 4 ft a trench needs a way out, from 5 ft protection."
std::string trench_words(const Site& site);

} // namespace lowspot::site
