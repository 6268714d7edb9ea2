// A plan of the yard for a printed page: outlines and works, with the stations and corners a crew measures
// from, arrows the way the ground falls, or the water of one map.
#pragma once
#include <optional>
#include <vector>

#include <lowspot/job/cut_sheet.hpp>
#include <lowspot/job/ties.hpp>
#include <lowspot/report/map_quantity.hpp>

namespace lowspot::report {

// What one sketch shows.
struct PlanSketch {
  MapScene scene;                          // the yard
  const results::DesignRecord& record;     // of the design, or of the yard as it is
  const job::CutSheet* stations = nullptr; // marked along the runs
  std::vector<job::Corner> corners = {};   // lettered
  bool fall_arrows = false;                // and ground contours with their elevations
  std::optional<MapQuantity> water = {};   // with its legend
  Size room = {280, 280};                  // the most it may take [points]
};

// The elevation of a contour [m] as it is written beside it, with so many decimals that contours of this step
// [m] read differently.
std::string contour_text(double level, double step, const Units& units);
// The way the ground of a sketch falls at a cell [m/m], from the mean over `reach` cells on either side.
Point fall_at(const PlanSketch& sketch, int column, int row, int reach);
// Width and height of the sketch [points].
Size sketch_size(const PlanSketch& sketch);
// Top left corner at the origin.
void draw_sketch(cairo_t* context, const PlanSketch& sketch);
// PNG bytes at a size that prints sharp.
std::string sketch_png(const PlanSketch& sketch);

} // namespace lowspot::report
