// Where a house stands between two places, the ground of the one says nothing of the other.
#pragma once
#include <vector>

#include <lowspot/base/geometry.hpp>

namespace lowspot::terrain {

// Whether the straight way between two places leads through one of the outlines, further inside than a foot:
// along a wall, and past its corner, the ground goes on.
bool parted_by_building(const std::vector<Polygon>& buildings, const Point& from, const Point& to);

} // namespace lowspot::terrain
