// The one place that says what "soggy" means. Soggy is not a puddle: the soil is full of water though none
// may stand.
#pragma once
#include <algorithm>

namespace lowspot::results {

// Ground is soft underfoot when perched water comes this near its surface [m] (4 in; drainage practice speaks
// of 4 to 6 in), or stands in the upper half of a soil that is shallower than twice that. Under a slab the
// surface is its underside.
inline constexpr double soggy_depth = 0.1016;

// How high the table stands above the level from which the ground is soggy [m]; negative: firm. soil_depth D
// of that cell, saturated H [m]; sealed: full to the top under water, whatever H a trench has drawn it to.
inline double above_soggy_level(double soil_depth, double saturated, bool sealed = false) {
  return (sealed ? soil_depth : saturated) - (soil_depth - std::min(soggy_depth, 0.5 * soil_depth));
}

// An area or a bed counts as soggy until less than this share of it is.
inline constexpr double soggy_share = 0.1;

// Roots are soggy where less than this share of the soil around them is air: oxygen then hardly moves in it
// (M. B. Kirkham; 5 to 15 % in the literature, no single critical value: Cook and Knight 2003, Soil Sci. Soc.
// Am. J. 67).
inline constexpr double least_air = 0.10;

// Thirsty: less than this share of what the root zone can hold for plants is left.
inline constexpr double thirsty_share = 0.5;

// The same in words, for every page that shows the figures.
inline constexpr const char* soggy_ground_words = "Soggy ground is full of water to within 4 in (100 mm) of "
                                                  "its surface, or of the underside of a slab, though no "
                                                  "puddle may stand.";
// Likewise for roots.
inline constexpr const char* soggy_roots_words = "Roots are soggy where less than a tenth of the soil around "
                                                 "them is air, thirsty where less than half of the water "
                                                 "they can use is left.";

} // namespace lowspot::results
