// Small signs of the diagnosis on a map.
#pragma once
#include <cairo.h>

#include <lowspot/report/map_view.hpp>

namespace lowspot::report {

// All at places on the drawing [points].
void draw_number(cairo_t* context, const Point& at, int number); // white on a dark disc
void draw_spill(cairo_t* context, const Point& at);              // a white triangle, edged dark
// angle: clockwise from the right [rad]; length [points].
void draw_small_arrow(cairo_t* context, const Point& from, double angle, double length);
// A way for a pipe: dashed orange on white, with a ring at its end. Points in metres.
void draw_route(cairo_t* context, const MapView& view, const Polyline& path);

} // namespace lowspot::report
