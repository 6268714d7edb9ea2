#include <lowspot/report/draw_map.hpp>

#include <algorithm>

#include <lowspot/base/text.hpp>
#include <lowspot/report/map_furniture.hpp>
#include <lowspot/report/sheet.hpp>
#include <lowspot/report/storm_words.hpp>

namespace lowspot::report {
namespace {

constexpr double margin = 18, gap = 16;
constexpr double row_title = 22, caption = 32, footer = 30;
constexpr std::size_t most_columns = 4;
const Rgb ink{0.12, 0.12, 0.14};
const Rgb faint{0.36, 0.36, 0.40};

// Panel size [points]: fewer panels are drawn larger, tall yards are kept on the page.
Size panel_size(const Grid& grid, std::size_t columns) {
  const double widest = columns <= 1 ? 560 : columns == 2 ? 380 : 290;
  const double scale = std::min(widest / (grid.nx * grid.cell), 400 / (grid.ny * grid.cell));
  return {grid.nx * grid.cell * scale, grid.ny * grid.cell * scale};
}

// Narrow panels still need room for their captions.
double column_width(const Size& panel) {
  return std::max(panel.width, 190.0);
}

// A long text is made smaller, then cut, so that it stays in its column.
std::string fitted(cairo_t* context, const std::string& text, TextStyle& style, double width) {
  while (style.size > 6 && text_size(context, text, style).width > width) style.size -= 0.5;
  std::size_t letters = text.size();
  while (letters > 1 && text_size(context, short_name(text, letters), style).width > width) --letters;
  return short_name(text, letters);
}

void draw_caption(cairo_t* context, double x, double y, double width, const std::string& name,
                  const std::string& figure) {
  TextStyle style;
  style.size = 10.5;
  style.bold = true;
  style.color = ink;
  draw_text(context, x, y, fitted(context, name, style, width), style);
  style.size = 9;
  style.bold = false;
  style.color = faint;
  draw_text(context, x, y + 14, fitted(context, figure, style, width), style);
}

void draw_panel(cairo_t* context, const MapScene& scene, const MapView& view, MapQuantity quantity,
                const Scale& scale, const results::DesignRecord& design) {
  cairo_save(context);
  const Rectangle frame = view.frame();
  // Outlets lie on the edge: room for them.
  cairo_rectangle(context, frame.x - 8, frame.y - 8, frame.width + 16, frame.height + 16);
  cairo_clip(context);
  draw_ground(context, view, scene, &design);
  draw_water(context, view, scene, field_of(design, quantity), scale);
  set_color(context, faint);
  cairo_set_line_width(context, 0.6);
  cairo_rectangle(context, frame.x, frame.y, frame.width, frame.height);
  cairo_stroke(context);
  draw_outlines(context, view, scene, design, wet_places(view, scene, field_of(design, quantity), scale));
  cairo_restore(context);
}

std::string notes(const MapScene& scene) {
  std::string text = "Uncoloured: less, or no water.";
  const double step = contour_step(scene.comparison, scene.units);
  if (step > 0) text += " Thin lines: ground, every " + amount(step, scene.units.elevation, 3) + ".";
  text += " Dashed pipe takes water in, solid pipe carries it.";
  if (scene.comparison.designs.size() > most_columns) {
    const std::size_t others = scene.comparison.designs.size() - most_columns;
    text += " " + std::to_string(others) + (others == 1 ? " more design is" : " more designs are") +
            " not drawn.";
  }
  return text;
}

void draw_footer(cairo_t* context, const MapScene& scene, double y, double width, double points_per_metre) {
  TextStyle style;
  style.size = 7.5;
  style.color = faint;
  style.width = std::max(120.0, width - 2 * margin - 210);
  draw_text(context, margin, y + 4, notes(scene), style);
  const double bar = draw_scale_bar(context, width - margin - 165, y + 7, points_per_metre, scene.units, 110);
  draw_north(context, width - margin - 165 + std::max(bar, 60.0) + 42, y + 14, scene.site.north);
}

double row_height(const Size& panel) {
  return row_title + caption + panel.height + legend_height + 14;
}

} // namespace

std::vector<std::size_t> shown_designs(const results::Comparison& comparison) {
  std::vector<std::size_t> shown;
  for (std::size_t k = 0; k < comparison.designs.size(); ++k) {
    if (shown.size() < most_columns)
      shown.push_back(k);
    else if (comparison.designs[k].name == comparison.verdict.design)
      shown.back() = k;
  }
  return shown;
}

Size map_sheet_size(const MapScene& scene, const std::vector<MapQuantity>& rows) {
  const std::size_t columns = std::max<std::size_t>(1, shown_designs(scene.comparison).size());
  const Size panel = panel_size(scene.comparison.grid, columns);
  double width = static_cast<double>(columns) * (column_width(panel) + gap) - gap + 2 * margin;
  for (const MapQuantity row : rows) width = std::max(width, legend_width(scale_of(scene, row)) + 2 * margin);
  return {width, 2 * margin + 12 + footer + static_cast<double>(rows.size()) * row_height(panel)};
}

void draw_map_sheet(cairo_t* context, const MapScene& scene, const std::vector<MapQuantity>& rows) {
  const Size sheet = map_sheet_size(scene, rows);
  const std::vector<std::size_t> columns = shown_designs(scene.comparison);
  const Size panel = panel_size(scene.comparison.grid, columns.size());
  const double points_per_metre = panel.width / (scene.comparison.grid.nx * scene.comparison.grid.cell);
  TextStyle style;
  style.size = 8.5;
  style.color = faint;
  const results::Comparison& all = scene.comparison;
  draw_text(context, margin, margin - 6,
            all.site_name + ": " + storm_words(scene.site, all, scene.units) +
                later_storms_words(scene.site, scene.units),
            style);
  double y = margin + 12;
  for (const MapQuantity row : rows) {
    const Scale scale = scale_of(scene, row);
    style.size = 13;
    style.bold = true;
    style.color = ink;
    draw_text(context, margin, y, scale.title, style);
    for (std::size_t k = 0; k < columns.size(); ++k) {
      const results::DesignRecord& design = all.designs[columns[k]];
      const double x = margin + static_cast<double>(k) * (column_width(panel) + gap);
      draw_caption(context, x, y + row_title, column_width(panel), design.name,
                   caption_of(scene, row, design));
      const MapView view{all.grid, x, y + row_title + caption, points_per_metre};
      draw_panel(context, scene, view, row, scale, design);
    }
    draw_legend(context, margin + 8, y + row_title + caption + panel.height + 8, scale);
    y += row_height(panel);
  }
  draw_footer(context, scene, y, sheet.width, points_per_metre);
}

} // namespace lowspot::report
