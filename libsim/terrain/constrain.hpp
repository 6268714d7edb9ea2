// Makes a triangulation follow given lines: each becomes one side of a triangle, or a row of them.
#pragma once
#include <array>
#include <cstdint>
#include <vector>

#include <lowspot/terrain/tin.hpp>

namespace lowspot::terrain {

// A place in whole steps, on which every test of side and circle is exact. At most 1e9 steps either way.
using Place = std::array<std::int64_t, 2>;

// Brings each edge (a pair of points of `tin`) in by swapping the diagonals it crosses, then makes the rest
// Delaunay again as far as the edges allow (Sloan 1993). An edge that passes over a point is followed from
// point to point. The sides that must stay are added to tin.fixed. places: one for each point of tin.
// Returns the number of edges that could not be followed because they cross an earlier one.
int follow_edges(const std::vector<Place>& places, const std::vector<std::array<int, 2>>& edges, Tin& tin);

} // namespace lowspot::terrain
