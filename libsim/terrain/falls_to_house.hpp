// Paving that leads its water to the house.
#pragma once
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::terrain {

// Warns of each paved area that falls towards the wall of a building beside it, by 0.5 % and more on average
// over the stretch where it meets the wall, judged over its first 10 ft (at least 3 ft).
void warn_of_falls_to_house(const site::Site& site, Ground& ground);

} // namespace lowspot::terrain
