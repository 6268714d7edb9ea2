// Elevations of the grid from the survey, alone or on top of a raster.
#pragma once
#include <lowspot/base/field.hpp>
#include <lowspot/base/grid.hpp>
#include <lowspot/terrain/raster_ground.hpp>
#include <lowspot/terrain/survey.hpp>

namespace lowspot::terrain {

// Linear on the triangulation; beyond its hull the nearest value of the hull, such cells marked in `outside`.
Field survey_heights(const Survey& survey, const Grid& grid, Mask& outside);

// Moves the raster's heights by what the shots say it is wrong: the differences at the shots, linear between
// them, fading to nothing beyond the hull over twice the shots' mean spacing, so that no step is made at the
// hull. Returns that distance [m].
double refine_by_survey(const Survey& survey, const HeightMap& map, const Grid& grid, Field& elevation);

} // namespace lowspot::terrain
