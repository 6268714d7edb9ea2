#include <lowspot/report/shares_map.hpp>

#include <algorithm>

#include <lowspot/report/map_furniture.hpp>
#include <lowspot/report/map_image.hpp>
#include <lowspot/report/source_colors.hpp>

namespace lowspot::report {
namespace {

constexpr double margin = 18, title_height = 40, entry_height = 15, footer = 34;
const Rgb ink{0.12, 0.12, 0.14};
const Rgb faint{0.36, 0.36, 0.40};

Size panel_size(const Grid& grid) {
  const double scale = std::min(520 / (grid.nx * grid.cell), 460 / (grid.ny * grid.cell));
  return {grid.nx * grid.cell * scale, grid.ny * grid.cell * scale};
}

// Sources that are the largest somewhere.
std::vector<std::size_t> shown_sources(const std::vector<int>& largest, std::size_t count) {
  std::vector<bool> seen(count, false);
  for (const int source : largest)
    if (source >= 0) seen[static_cast<std::size_t>(source)] = true;
  std::vector<std::size_t> shown;
  for (std::size_t s = 0; s < count; ++s)
    if (seen[s]) shown.push_back(s);
  return shown;
}

// Full colour where one source gave all, paler the less it gave.
Image source_image(const MapScene& scene, const results::DesignRecord& record,
                   const std::vector<int>& largest) {
  const Grid& grid = scene.comparison.grid;
  const std::vector<Rgb> colors = source_colors(record.shares);
  const int factor = pixels_per_cell(grid);
  Image image;
  image.width = grid.nx * factor;
  image.height = grid.ny * factor;
  image.pixels.assign(static_cast<std::size_t>(image.width) * image.height, 0);
  for (int y = 0; y < image.height; ++y)
    for (int x = 0; x < image.width; ++x) {
      const std::size_t cell = grid.index(x / factor, grid.ny - 1 - y / factor);
      const int source = largest[cell];
      if (source < 0) continue;
      const double share = record.shares.when_deepest[static_cast<std::size_t>(source)][cell];
      image.pixels[static_cast<std::size_t>(y) * image.width + x] =
          pixel(colors[static_cast<std::size_t>(source)], std::clamp(0.35 + 0.6 * share, 0.0, 0.95));
    }
  return image;
}

} // namespace

std::vector<int> largest_source(const results::DesignRecord& record, const Mask& active, double depth) {
  std::vector<int> largest(record.max_depth.size(), -1);
  for (std::size_t cell = 0; cell < largest.size(); ++cell) {
    if (!active[cell] || !(record.max_depth[cell] > depth)) continue;
    float most = 0;
    for (std::size_t s = 0; s < record.shares.when_deepest.size(); ++s)
      if (record.shares.when_deepest[s][cell] > most) {
        most = record.shares.when_deepest[s][cell];
        largest[cell] = static_cast<int>(s);
      }
  }
  return largest;
}

Size shares_map_size(const MapScene& scene, const results::DesignRecord& record) {
  const Size panel = panel_size(scene.comparison.grid);
  const auto entries = static_cast<double>(
      shown_sources(largest_source(record, scene.comparison.active, scene.comparison.standing_depth),
                    record.shares.sources.size())
          .size());
  return {std::max(panel.width, 360.0) + 2 * margin,
          2 * margin + title_height + panel.height + 10 + entries * entry_height + footer};
}

void draw_shares_map(cairo_t* context, const MapScene& scene, const results::DesignRecord& record) {
  const results::Comparison& all = scene.comparison;
  const std::vector<int> largest = largest_source(record, all.active, all.standing_depth);
  const Size sheet = shares_map_size(scene, record), panel = panel_size(all.grid);
  TextStyle style;
  style.size = 13;
  style.bold = true;
  style.color = ink;
  draw_text(context, margin, margin, "Where the water comes from: " + record.name, style);
  style.size = 9;
  style.bold = false;
  style.color = faint;
  draw_text(context, margin, margin + 18,
            "Largest source of the deepest water each spot held; the paler, the less of it", style);

  const MapView view{all.grid, margin, margin + title_height, panel.width / (all.grid.nx * all.grid.cell)};
  draw_ground(context, view, scene);
  draw_image(context, source_image(scene, record, largest), view.left, view.top, view.width(), view.height());
  set_color(context, faint);
  cairo_set_line_width(context, 0.6);
  cairo_rectangle(context, view.left, view.top, view.width(), view.height());
  cairo_stroke(context);
  draw_outlines(context, view, scene, record);

  double y = margin + title_height + panel.height + 12;
  const std::vector<Rgb> colors = source_colors(record.shares);
  style.color = ink;
  for (const std::size_t source : shown_sources(largest, record.shares.sources.size())) {
    cairo_rectangle(context, margin, y, 18, 10);
    set_color(context, colors[source]);
    cairo_fill_preserve(context);
    set_color(context, ink);
    cairo_set_line_width(context, 0.5);
    cairo_stroke(context);
    draw_text(context, margin + 24, y - 1, record.shares.sources[source].name, style);
    y += entry_height;
  }
  style.size = 7.5;
  style.color = faint;
  style.width = sheet.width - 2 * margin - 200;
  draw_text(context, margin, y + 6,
            "Uncoloured: never deeper than " + amount(all.standing_depth, scene.units.depth) + ".", style);
  const double bar = draw_scale_bar(context, sheet.width - margin - 165, y + 9, view.scale, scene.units, 110);
  draw_north(context, sheet.width - margin - 165 + std::max(bar, 60.0) + 42, y + 16, scene.site.north);
}

} // namespace lowspot::report
