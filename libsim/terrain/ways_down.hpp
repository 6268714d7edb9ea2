// Ways down that cells miss: a swale aslant to the grid is narrower than cells that touch at corners only,
// and would be a row of pits.
#pragma once
#include <functional>

#include <lowspot/base/field.hpp>
#include <lowspot/base/geometry.hpp>
#include <lowspot/base/grid.hpp>

namespace lowspot::terrain {

// What was lowered to open ways down.
struct OpenedWays {
  int pits = 0;       // cells that the ground itself has a way down from
  int lowered = 0;    // cells on those ways
  double deepest = 0; // most that one was lowered [m]
};

// Looks at the ground between the middles of the cells, in steps of a ninth of a cell. Where it has a way
// down from a cell that all its neighbours stand above, no higher than that cell (by 1 % of a cell at most)
// and within ten cells, the cells that this way crosses are lowered to an even fall along it. Nothing else is
// changed: no cell is raised, a hollow without a way out stays one. height: of the ground at a place [m].
// elevation, active: one a cell; ways cross active cells only.
OpenedWays open_ways_down(const std::function<double(const Point&)>& height, const Grid& grid,
                          const Mask& active, Field& elevation);

} // namespace lowspot::terrain
