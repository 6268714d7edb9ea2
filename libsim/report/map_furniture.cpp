#include <lowspot/report/map_furniture.hpp>

#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/report/paint.hpp>

namespace lowspot::report {
namespace {

constexpr double box_width = 38;
constexpr double box_height = 12;
const Rgb ink{0.12, 0.12, 0.14};

void centred(cairo_t* context, double x, double y, const std::string& text, const TextStyle& style) {
  draw_text(context, x - text_size(context, text, style).width / 2, y, text, style);
}

} // namespace

double legend_width(const Scale& scale) {
  return (static_cast<double>(scale.bounds.size()) + 0.6) * box_width;
}

void draw_legend(cairo_t* context, double x, double y, const Scale& scale) {
  TextStyle small;
  small.size = 7.5;
  small.color = ink;
  const double top = y + 10;
  for (std::size_t k = 0; k < scale.bounds.size(); ++k) {
    const double left = x + static_cast<double>(k) * box_width;
    cairo_rectangle(context, left, top, box_width, box_height);
    set_color(context, scale.colors[k]);
    cairo_fill(context);
    const bool is_target =
        scale.target >= 0 && std::abs(scale.bounds[k] - scale.target) < 1e-9 * scale.target;
    set_color(context, ink);
    cairo_set_line_width(context, is_target ? 2 : 0.6);
    cairo_move_to(context, left, top - (is_target ? 3 : 0));
    cairo_line_to(context, left, top + box_height + 3);
    cairo_stroke(context);
    TextStyle style = small;
    style.bold = is_target;
    centred(context, left, top + box_height + 3, rounded(scale.bounds[k], 3), style);
    if (is_target) centred(context, left, y - 3, scale.target_text, style);
  }
  const double right = x + static_cast<double>(scale.bounds.size()) * box_width;
  set_color(context, ink);
  cairo_set_line_width(context, 0.6);
  cairo_rectangle(context, x, top, right - x, box_height);
  cairo_stroke(context);
  draw_text(context, right - box_width / 2 + 6, top + box_height + 3, "and more", small);
}

double draw_scale_bar(cairo_t* context, double x, double y, double points_per_metre, const Units& units,
                      double most) {
  const double longest = most / points_per_metre / units.length.si;
  double shown = std::pow(10.0, std::floor(std::log10(longest)));
  for (const double factor : {5.0, 2.0})
    if (shown * factor <= longest) {
      shown *= factor;
      break;
    }
  const double length = shown * units.length.si * points_per_metre;
  set_color(context, ink);
  cairo_set_line_width(context, 0.8);
  cairo_rectangle(context, x, y, length, 4.5);
  cairo_stroke(context);
  cairo_rectangle(context, x, y, length / 2, 4.5);
  cairo_fill(context);
  TextStyle small;
  small.size = 7.5;
  small.color = ink;
  draw_text(context, x - 2, y + 6, "0", small);
  const std::string end = rounded(shown, 3) + ' ' + units.length.name;
  draw_text(context, x + length - text_size(context, end, small).width / 2, y + 6, end, small);
  return length;
}

void draw_north(cairo_t* context, double x, double y, double turn) {
  cairo_save(context);
  cairo_translate(context, x, y);
  cairo_rotate(context, turn);
  cairo_move_to(context, 0, -9);
  cairo_line_to(context, 5, 7);
  cairo_line_to(context, 0, 3.5);
  cairo_line_to(context, -5, 7);
  cairo_close_path(context);
  set_color(context, ink);
  cairo_fill(context);
  TextStyle style;
  style.size = 8;
  style.bold = true;
  style.color = ink;
  const Size size = text_size(context, "N", style);
  cairo_translate(context, 0, -15);
  cairo_rotate(context, -turn); // the letter stays upright
  draw_text(context, -size.width / 2, -size.height / 2, "N", style);
  cairo_restore(context);
}

} // namespace lowspot::report
