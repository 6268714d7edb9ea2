#include <lowspot/report/map_view.hpp>

namespace lowspot::report {

void trace(cairo_t* context, const MapView& view, const std::vector<Point>& points, bool closed) {
  bool first = true;
  for (const Point& point : points) {
    const Point at = view.at(point);
    first ? cairo_move_to(context, at.x, at.y) : cairo_line_to(context, at.x, at.y);
    first = false;
  }
  if (closed && !points.empty()) cairo_close_path(context);
}

} // namespace lowspot::report
