// Level pools: once films have drained, only sources act, and the clock may jump.
#pragma once
#include <span>
#include <vector>

#include <lowspot/surface/flow.hpp>
#include <lowspot/surface/tiles.hpp>
#include <lowspot/surface/workspace.hpp>

namespace lowspot::surface {

// Discharge below which a film counts as drained [m2/s].
constexpr double film_discharge = 1e-7;
// A pool is level when neighbours differ by no more than this [m].
constexpr double level_tolerance = 2e-4;
// The deepest fall of a pool that is taken in one piece [m].
constexpr double longest_fall = 1e-3;

// True when no face passes, or under the present levels would pass, more than a film, and all pools are
// level.
bool films_drained(const Terrain& terrain, const Tiles& tiles, const Workspace& work,
                   const std::vector<double>& q_x, const std::vector<double>& q_y);

// Advances by at most dt seconds with only sources acting on level pools. Returns the time passed [s]: less
// than dt when water would begin to flow, 0 when it would at once. taken [m] is added to.
double rest(const Terrain& terrain, double dt, Workspace& work, std::vector<double>& depth,
            std::span<double> taken);

} // namespace lowspot::surface
