// What a reader needs to read a map: legend, scale bar, north arrow.
#pragma once
#include <cairo.h>

#include <lowspot/report/scale.hpp>

namespace lowspot::report {

// Of a legend [points].
constexpr double legend_height = 36;
// Width the legend takes [points].
double legend_width(const Scale& scale);
// Classes from the left, bounds written under them, the target marked. x, y: top left corner.
void draw_legend(cairo_t* context, double x, double y, const Scale& scale);
// A bar of a round length in the site's units, at most `most` points long. Returns its length [points].
double draw_scale_bar(cairo_t* context, double x, double y, double points_per_metre, const Units& units,
                      double most);
// turn: clockwise [rad]. x, y: middle of the arrow.
void draw_north(cairo_t* context, double x, double y, double turn);

} // namespace lowspot::report
