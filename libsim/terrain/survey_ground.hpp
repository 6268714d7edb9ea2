// Elevations of the grid from the survey, alone or on top of a raster.
#pragma once
#include <lowspot/base/field.hpp>
#include <lowspot/base/grid.hpp>
#include <lowspot/terrain/raster_ground.hpp>
#include <lowspot/terrain/survey.hpp>

namespace lowspot::terrain {

// Linear on the triangulation; beyond its hull the nearest value of the hull, such cells marked in `outside`.
Field survey_heights(const Survey& survey, const Grid& grid, Mask& outside);

// How the shots stand to the raster below them.
struct DatumShift {
  double shift = 0;   // middle of shots minus raster [m]; 0 where it is no more than chance
  double scatter = 0; // robust standard deviation about it [m]
  int shots = 0;      // that stand on data of the raster
};
// The median of the differences at shots over data of the raster (at breakline points where there are no
// shots). It counts as a shift of datum when it is over 3 cm, over the scatter, and over three times the
// scatter divided by the root of the number of shots; three at least.
DatumShift datum_shift(const Survey& survey, const HeightMap& map);

// Moves the raster's heights by the datum shift everywhere, and by what the shots say is wrong beyond it: the
// differences that are left, linear between the points, fading to nothing beyond the hull over twice the
// points' mean spacing, so that no step is made at the hull. A point beyond both grid and raster says nothing
// here. Returns that distance [m], 0 where fewer than three points off one line are left and nothing is
// refined.
double refine_by_survey(const Survey& survey, const HeightMap& map, const DatumShift& datum, const Grid& grid,
                        Field& elevation);

} // namespace lowspot::terrain
