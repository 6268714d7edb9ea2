// Water that stands on the ground at a place, as against a film that runs off it.
#pragma once
#include <span>

#include <lowspot/terrain/ground.hpp>

namespace lowspot::yard {

// How deep water stands on a cell [m], 0 where it only runs off: over the cell's ground, as high as it stands
// on the cell and on all those beside it, to which it can pass. A jet that spreads in its own cell, or a film
// on a slope, falls away on some side; a pool does not. depth: of all water on the ground [m].
double standing_depth(const terrain::Ground& ground, std::span<const double> depth, int cell);

// The level [m] at which water that stands `depth` deep on ground at `ground` holds back an outlet with its
// rim at `rim` [m]; minus infinity without any. An outlet under the ground of its cell is taken to run free
// while nothing stands there, the ground falling away beyond it: the level then comes up from the rim, three
// times as fast as the water, until it is that of the water.
double level_at_outlet(double ground, double depth, double rim);

} // namespace lowspot::yard
