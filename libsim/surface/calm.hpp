// When water counts as still: films so thin that what they pass does not matter, pools that are level.
#pragma once
#include <lowspot/surface/workspace.hpp>

namespace lowspot::surface {

// Discharge below which a film counts as drained [m2/s].
constexpr double film_discharge = 1e-7;
// A pool is level when neighbours differ by no more than this [m].
constexpr double level_tolerance = 2e-4;

// Manning flow for the levels on the two sides of a face, squared [m4/s2]. roughness: Manning's n squared.
double potential_squared(double level_a, double level_b, double sill, double roughness, double cell_size);

// True when mobile water on the two sides of a face hangs together at one level, or nearly.
bool in_one_pool(double level_a, double level_b, double sill);

// What must be calm: a part of the yard, beside which water may move on, or all of it.
enum class Calm { part, whole };

// True when no face around or between the cells [i_begin, i_end) x [j_begin, j_end) passes, or under the
// present levels would pass, more than a film, and all pools there are level. Within pools of a whole yard
// sinks may draw some water to and fro. In a part that would take sheet flow on gentle ground for a pool and
// hold it back: there no more passes than a film, in pools too.
bool is_calm(const Grid& grid, int i_begin, int i_end, int j_begin, int j_end, Calm what,
             const Workspace& work);

} // namespace lowspot::surface
