#include <lowspot/report/map_marks.hpp>

#include <cmath>
#include <numbers>
#include <string>

#include <lowspot/report/paint.hpp>

namespace lowspot::report {
namespace {
const Rgb ink = rgb({0.22, 0.02, 260});
const Rgb orange = rgb({0.62, 0.17, 50});
} // namespace

void draw_number(cairo_t* context, const Point& at, int number) {
  cairo_new_sub_path(context);
  cairo_arc(context, at.x, at.y, 6.5, 0, 2 * std::numbers::pi);
  set_color(context, ink);
  cairo_fill_preserve(context);
  cairo_set_source_rgb(context, 1, 1, 1);
  cairo_set_line_width(context, 1);
  cairo_stroke(context);
  TextStyle style;
  style.size = number > 9 ? 6.5 : 8;
  style.bold = true;
  style.color = {1, 1, 1};
  const std::string text = std::to_string(number);
  const Size size = text_size(context, text, style);
  draw_text(context, at.x - size.width / 2, at.y - size.height / 2, text, style);
}

void draw_spill(cairo_t* context, const Point& at) {
  cairo_move_to(context, at.x, at.y - 4.5);
  cairo_line_to(context, at.x + 4.6, at.y + 3.6);
  cairo_line_to(context, at.x - 4.6, at.y + 3.6);
  cairo_close_path(context);
  cairo_set_source_rgb(context, 1, 1, 1);
  cairo_fill_preserve(context);
  set_color(context, ink);
  cairo_set_line_width(context, 1.3);
  cairo_stroke(context);
}

void draw_small_arrow(cairo_t* context, const Point& from, double angle, double length) {
  cairo_save(context);
  cairo_translate(context, from.x, from.y);
  cairo_rotate(context, angle);
  cairo_move_to(context, 0, 0);
  cairo_line_to(context, length, 0);
  cairo_move_to(context, length - 3, -2);
  cairo_line_to(context, length, 0);
  cairo_line_to(context, length - 3, 2);
  set_color(context, rgb({0.45, 0.09, 245}), 0.8);
  cairo_set_line_width(context, 0.9);
  cairo_stroke(context);
  cairo_restore(context);
}

void draw_route(cairo_t* context, const MapView& view, const Polyline& path) {
  if (path.size() < 2) return;
  cairo_set_line_join(context, CAIRO_LINE_JOIN_ROUND);
  trace(context, view, path, false);
  cairo_set_source_rgba(context, 1, 1, 1, 0.9);
  cairo_set_line_width(context, 4.4);
  cairo_stroke_preserve(context);
  const double dashes[] = {6, 3};
  cairo_set_dash(context, dashes, 2, 0);
  set_color(context, orange);
  cairo_set_line_width(context, 2);
  cairo_stroke(context);
  cairo_set_dash(context, nullptr, 0, 0);
  const Point end = view.at(path.back());
  cairo_new_sub_path(context);
  cairo_arc(context, end.x, end.y, 4, 0, 2 * std::numbers::pi);
  cairo_set_source_rgb(context, 1, 1, 1);
  cairo_fill_preserve(context);
  set_color(context, orange);
  cairo_set_line_width(context, 2);
  cairo_stroke(context);
}

} // namespace lowspot::report
