// Stations on a plan, with their distances written where no line runs through them.
#pragma once
#include <cairo.h>

#include <string>
#include <vector>

#include <lowspot/report/label_layout.hpp>
#include <lowspot/report/plan_sketch.hpp>

namespace lowspot::report {

// A point on a plan and what is written beside it.
struct SketchMark {
  Point at;         // on the drawing
  std::string text; // empty: the point alone
  Rectangle room;   // of the text
};
constexpr double sketch_rim = 13; // around a plan, for outlets and corner letters on the edge [points]

// Lettering of small figures on a plan.
TextStyle small_lettering();
// The disc of a lettered corner.
Rectangle corner_room(const MapView& view, const job::Corner& corner);
// Stations along the runs; only those far enough apart are labelled, ends always. Their texts stand beside
// the marks, off the pipes and the outlines where there is room for it, and never over each other.
std::vector<SketchMark> station_marks(cairo_t* context, const PlanSketch& sketch, const MapView& view);

} // namespace lowspot::report
