// Where the yard lies on a drawing.
#pragma once
#include <cairo.h>

#include <lowspot/base/geometry.hpp>
#include <lowspot/base/grid.hpp>
#include <lowspot/report/label_layout.hpp>

namespace lowspot::report {

// A grid on a drawing, its northern rows on top.
struct MapView {
  Grid grid;                // where the cells lie
  double left = 0, top = 0; // of the grid's north-west corner on the drawing [points]
  double scale = 1;         // points per metre
  double beside = 0;        // paper at its right where names may stand [points]
  double before = 0;        // and at its left [points]

  double width() const { return grid.nx * grid.cell * scale; }
  double height() const { return grid.ny * grid.cell * scale; }
  Rectangle frame() const { return {left, top, width(), height()}; }
  Rectangle frame_of_names() const { return {left - before, top, before + width() + beside, height()}; }
  // Where a place of the yard [m] lies on the picture.
  Point at(const Point& place) const {
    return {left + (place.x - grid.x0) * scale, top + (grid.y0 + grid.ny * grid.cell - place.y) * scale};
  }
};

// Adds a line (closed when asked) to Cairo's path.
void trace(cairo_t* context, const MapView& view, const std::vector<Point>& points, bool closed);

} // namespace lowspot::report
