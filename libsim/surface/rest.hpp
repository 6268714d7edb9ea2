// Level pools: once films have drained, only sources act, and the clock may jump.
#pragma once
#include <span>
#include <vector>

#include <lowspot/surface/flow.hpp>
#include <lowspot/surface/workspace.hpp>

namespace lowspot::surface {

class Tags;

// The deepest fall of a pool that is taken in one piece [m].
constexpr double longest_fall = 1e-3;

// Whether level pools may take the place of flow where all is calm: each stands level from end to end, and
// stays so while it brings to its sinks what they draw.
bool may_rest(const Terrain& terrain, const Workspace& work, const std::vector<double>& depth);

// Advances by at most dt seconds with only sources acting on level pools. Returns the time passed [s]: less
// than dt when water would begin to flow, 0 when it would at once. taken [m] is added to. tags: told what
// moved within pools, unless null.
double rest(const Terrain& terrain, double dt, Workspace& work, std::vector<double>& depth,
            std::span<double> taken, Tags* tags = nullptr);

} // namespace lowspot::surface
