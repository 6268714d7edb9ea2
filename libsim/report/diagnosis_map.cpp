#include <lowspot/report/diagnosis_map.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

#include <lowspot/report/map_furniture.hpp>
#include <lowspot/report/map_image.hpp>
#include <lowspot/report/map_marks.hpp>
#include <lowspot/results/output_folder.hpp>

namespace lowspot::report {
namespace {

constexpr double margin = 18, head = 40, key_height = 84;
constexpr int most_numbered = 20;
const Rgb ink{0.12, 0.12, 0.14};
const Rgb faint{0.36, 0.36, 0.40};

double points_per_metre(const Grid& grid) {
  return std::min(560 / (grid.nx * grid.cell), 620 / (grid.ny * grid.cell));
}

// Tints that stay apart for every kind of colour vision and in grey: two lightnesses by four hues.
Rgb tint_of(int id) {
  static const double hues[] = {60, 330, 140, 295}; // none is water's blue
  return rgb({(id / 4) % 2 == 0 ? 0.80 : 0.70, 0.075, hues[(id - 1) % 4]});
}

Field depth_when_full(const study::Diagnosis& diagnosis) {
  Field depth(diagnosis.yard.grid.cells(), 0.0);
  for (const study::LowSpotDiagnosis& low : diagnosis.low_spots)
    for (const int cell : low.spot.cells)
      depth[cell] = std::max(0.0, low.spot.spill_level - diagnosis.yard.elevation[cell]);
  return depth;
}

Scale full_scale(const DiagnosisScene& scene, const Field& depth) {
  results::Comparison only_depth;
  only_depth.designs.resize(1);
  only_depth.designs[0].max_depth = depth;
  Scale scale = depth_scale(only_depth, scene.units);
  scale.title = "Depth of the low spots when full, " + scene.units.depth.name;
  return scale;
}

Image catchment_image(const DiagnosisScene& scene) {
  const Grid& grid = scene.diagnosis.yard.grid;
  Image image;
  const int factor = pixels_per_cell(grid);
  image.width = grid.nx * factor;
  image.height = grid.ny * factor;
  image.pixels.assign(static_cast<std::size_t>(image.width) * image.height, 0);
  for (int row = 0; row < image.height; ++row)
    for (int column = 0; column < image.width; ++column) {
      const std::size_t cell = grid.index(column / factor, grid.ny - 1 - row / factor);
      const int id = scene.diagnosis.catchment.empty() ? 0 : scene.diagnosis.catchment[cell];
      if (id > 0 && scene.diagnosis.yard.active[cell])
        image.pixels[static_cast<std::size_t>(row) * image.width + column] = pixel(tint_of(id), 0.42);
    }
  return image;
}

// Faces between catchments, as a thin broken line.
void draw_divides(cairo_t* context, const MapView& view, const study::Diagnosis& diagnosis) {
  const Grid& grid = view.grid;
  if (diagnosis.catchment.empty()) return;
  const auto id = [&](int i, int j) { return diagnosis.catchment[grid.index(i, j)]; };
  const auto on = [&](int i, int j) { return diagnosis.yard.active[grid.index(i, j)] != 0; };
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i) {
      const double x = grid.x0 + i * grid.cell, y = grid.y0 + j * grid.cell;
      if (i > 0 && on(i, j) && on(i - 1, j) && id(i, j) != id(i - 1, j))
        trace(context, view, {{x, y}, {x, y + grid.cell}}, false);
      if (j > 0 && on(i, j) && on(i, j - 1) && id(i, j) != id(i, j - 1))
        trace(context, view, {{x, y}, {x + grid.cell, y}}, false);
    }
  set_color(context, rgb({0.35, 0.05, 300}), 0.75);
  cairo_set_line_width(context, 0.9);
  cairo_stroke(context);
}

constexpr double arrow_length = 9;

// Short arrows down the slope, on a lattice; none that would cross the limit of the yard.
void draw_flow(cairo_t* context, const MapView& view, const study::Diagnosis& diagnosis, const Field& depth) {
  const Grid& grid = view.grid;
  const int apart = std::max(1, static_cast<int>(std::lround(24 / (grid.cell * view.scale))));
  const auto height = [&](int i, int j, double own) {
    return grid.inside(i, j) && diagnosis.yard.active[grid.index(i, j)]
               ? diagnosis.yard.elevation[grid.index(i, j)]
               : own;
  };
  for (int j = apart / 2; j < grid.ny; j += apart)
    for (int i = apart / 2; i < grid.nx; i += apart) {
      const std::size_t cell = grid.index(i, j);
      if (!diagnosis.yard.active[cell] || depth[cell] > 0) continue;
      const double own = diagnosis.yard.elevation[cell];
      const double x = height(i - 1, j, own) - height(i + 1, j, own);
      const double y = height(i, j - 1, own) - height(i, j + 1, own);
      const double slope = std::hypot(x, y) / (2 * grid.cell);
      if (slope < 0.001) continue;
      const Point at = view.at({grid.x(i), grid.y(j)});
      const double right = view.left + view.width() - at.x, below = view.top + view.height() - at.y;
      if (std::min({at.x - view.left, at.y - view.top, right, below}) < arrow_length) continue;
      draw_small_arrow(context, at, std::atan2(-y, x), arrow_length);
    }
}

const study::OutletRoute* best_route(const study::LowSpotDiagnosis& low) {
  if (low.outlets.empty() || low.outlets.front().reach != study::Reach::by_gravity) return nullptr;
  return &low.outlets.front();
}

void draw_marks(cairo_t* context, const MapView& view, const study::Diagnosis& diagnosis) {
  for (const study::LowSpotDiagnosis& low : diagnosis.low_spots)
    if (const study::OutletRoute* route = best_route(low)) draw_route(context, view, route->path);
  for (const study::LowSpotDiagnosis& low : diagnosis.low_spots) {
    if (low.spot.id > most_numbered) break;
    if (!low.spot.closed) draw_spill(context, view.at(low.spot.spill_at));
  }
  for (const study::LowSpotDiagnosis& low : diagnosis.low_spots) {
    if (low.spot.id > most_numbered) break;
    draw_number(context, view.at(low.spot.at), low.spot.id);
  }
}

// Where they are, for names to keep clear of.
std::vector<Obstacle> places_of_marks(const MapView& view, const study::Diagnosis& diagnosis) {
  std::vector<Obstacle> places;
  const auto add = [&](const Point& where, double half) {
    const Point at = view.at(where);
    places.push_back({{at.x - half, at.y - half, 2 * half, 2 * half}, weight_of_marks});
  };
  for (const study::LowSpotDiagnosis& low : diagnosis.low_spots) {
    if (const study::OutletRoute* route = best_route(low)) {
      std::vector<Point> line;
      for (const Point& point : route->path) line.push_back(view.at(point));
      add_obstacles(line, 5, weight_of_marks, places);
    }
    if (low.spot.id > most_numbered) continue;
    add(low.spot.at, 9);
    if (!low.spot.closed) add(low.spot.spill_at, 5);
  }
  return places;
}

void draw_key(cairo_t* context, const DiagnosisScene& scene, double y, double width, double scale) {
  TextStyle style;
  style.size = 8;
  style.color = ink;
  double x = margin;
  const auto entry = [&](const std::string& text, const auto& sign) {
    const Size size = text_size(context, text, style);
    if (x + 26 + size.width > width - margin && x > margin) {
      x = margin;
      y += 16;
    }
    sign(Point{x + 9, y + 6});
    draw_text(context, x + 22, y, text, style);
    x += 22 + size.width + 16;
  };
  entry("low spot, by size", [&](const Point& at) { draw_number(context, at, 1); });
  entry("where it spills", [&](const Point& at) { draw_spill(context, at); });
  entry("way of least digging to an outlet by gravity", [&](const Point& at) {
    draw_route(context, MapView{{1, 1, 1, 0, 0}, 0, 0, 1}, {{at.x - 8, 1 - at.y}, {at.x + 5, 1 - at.y}});
  });
  entry("down the slope", [&](const Point& at) { draw_small_arrow(context, {at.x - 4, at.y}, 0, 9); });
  entry("ground that sheds to a low spot, edged by its divide", [&](const Point& at) {
    cairo_rectangle(context, at.x - 7, at.y - 5, 14, 10);
    set_color(context, tint_of(1), 0.6);
    cairo_fill_preserve(context);
    set_color(context, rgb({0.35, 0.05, 300}), 0.75);
    cairo_set_line_width(context, 0.9);
    cairo_stroke(context);
  });
  y += 24;
  style.size = 7.5;
  style.color = faint;
  const double bar = draw_scale_bar(context, margin, y, scale, scene.units, 110);
  draw_north(context, margin + std::max(bar, 60.0) + 40, y + 8, scene.site.north);
  style.width = std::max(120.0, width - 2 * margin - bar - 80);
  draw_text(context, margin + std::max(bar, 60.0) + 60, y,
            "Untinted ground sheds over the edge. Numbers stand at the deepest points.", style);
}

} // namespace

Size diagnosis_map_size(const DiagnosisScene& scene) {
  const Grid& grid = scene.diagnosis.yard.grid;
  const double scale = points_per_metre(grid);
  const double width = std::max(grid.nx * grid.cell * scale, 420.0) + 2 * margin;
  return {width, head + grid.ny * grid.cell * scale + legend_height + key_height + 2 * margin};
}

void draw_diagnosis_map(cairo_t* context, const DiagnosisScene& scene) {
  const study::Diagnosis& diagnosis = scene.diagnosis;
  const Size sheet = diagnosis_map_size(scene);
  const double scale = points_per_metre(diagnosis.yard.grid);
  TextStyle style;
  style.size = 13;
  style.bold = true;
  style.color = ink;
  draw_text(context, margin, margin - 4, "Low spots, what sheds to them, where they could drain", style);
  style.size = 8.5;
  style.bold = false;
  style.color = faint;
  draw_text(context, margin, margin + 15, diagnosis.yard.site_name, style);
  const MapView view{diagnosis.yard.grid, margin, margin + head - 8, scale};
  const MapScene map{scene.site, diagnosis.yard, scene.units};
  const Field depth = depth_when_full(diagnosis);
  const Scale depths = full_scale(scene, depth);
  cairo_save(context);
  const Rectangle frame = view.frame();
  cairo_rectangle(context, frame.x - 8, frame.y - 8, frame.width + 16, frame.height + 16);
  cairo_clip(context);
  draw_ground(context, view, map);
  draw_image(context, catchment_image(scene), view.left, view.top, view.width(), view.height());
  draw_divides(context, view, diagnosis);
  draw_water(context, view, map, depth, depths);
  draw_flow(context, view, diagnosis, depth);
  results::DesignRecord as_it_is;
  draw_outlines(context, view, map, as_it_is, places_of_marks(view, diagnosis));
  draw_marks(context, view, diagnosis);
  cairo_restore(context);
  double y = view.top + view.height() + 10;
  draw_text(context, margin, y - 2, depths.title, style);
  draw_legend(context, margin + 8, y + 8, depths);
  draw_key(context, scene, y + legend_height + 18, sheet.width, scale);
}

std::string diagnosis_map_png(const DiagnosisScene& scene) {
  return png(diagnosis_map_size(scene), 2, true,
             [&](cairo_t* context) { draw_diagnosis_map(context, scene); });
}

void write_diagnosis_map(const DiagnosisScene& scene, const std::string& bytes,
                         const std::filesystem::path& folder) {
  results::write_whole_file(folder / "diagnosis.png", bytes);
  results::write_whole_file(folder / "diagnosis.pdf",
                            pdf_page(diagnosis_map_size(scene), scene.units.metric,
                                     "Low spots: " + scene.diagnosis.yard.site_name,
                                     [&](cairo_t* context) { draw_diagnosis_map(context, scene); }));
}

} // namespace lowspot::report
