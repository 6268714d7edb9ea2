#include <lowspot/report/map_panel.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <utility>

#include <lowspot/report/isolines.hpp>
#include <lowspot/report/map_image.hpp>
#include <lowspot/report/map_works.hpp>

namespace lowspot::report {
namespace {

constexpr int most_contours = 9;
constexpr double part_of_width = 0.6; // of a drawing, for the name of a place that is narrower
const Rgb outline_ink = rgb({0.38, 0.01, 260});

// Lowest and highest ground of the yard [m]; the low one is above the high one where there is none.
std::pair<double, double> range_of(const Field& elevation, const Mask& active) {
  double low = std::numeric_limits<double>::infinity(), high = -low;
  for (std::size_t cell = 0; cell < elevation.size(); ++cell)
    if (active[cell] && std::isfinite(elevation[cell])) {
      low = std::min(low, elevation[cell]);
      high = std::max(high, elevation[cell]);
    }
  return {low, high};
}

void hatch(cairo_t* context, const MapView& view, const Polygon& outline) {
  cairo_save(context);
  trace(context, view, outline, true);
  set_color(context, rgb({0.95, 0.003, 260}));
  cairo_fill_preserve(context);
  cairo_clip(context);
  const Rectangle frame = view.frame();
  set_color(context, rgb({0.66, 0.008, 260}));
  cairo_set_line_width(context, 0.6);
  for (double x = frame.x - frame.height; x < frame.x + frame.width; x += 6) {
    cairo_move_to(context, x, frame.y + frame.height);
    cairo_line_to(context, x + frame.height, frame.y);
  }
  cairo_stroke(context);
  cairo_restore(context);
}

// Whether an area is what is seen at a place: later areas and buildings lie over it.
bool lies_on_top(const site::Site& site, std::size_t area, const Point& at) {
  for (std::size_t later = area + 1; later < site.areas.size(); ++later)
    if (contains(site.areas[later].outline, at)) return false;
  return std::none_of(site.buildings.begin(), site.buildings.end(),
                      [&](const site::Building& building) { return contains(building.outline, at); });
}

// Places for a name inside an outline, the middle first, then a raster over it: only where `seen` says that
// it is what lies there, unless that is nowhere.
std::vector<Rectangle> places_inside(const MapView& view, const Polygon& outline, const Size& size,
                                     const std::function<bool(const Point&)>& seen) {
  std::vector<std::pair<double, Rectangle>> ranked;
  const Box box = bounds(outline);
  const Point middle = centroid(outline);
  bool all = false;
  const auto add = [&](const Point& at) {
    if (!all && !seen(at)) return;
    const Point p = view.at(at);
    ranked.push_back(
        {distance(at, middle), {p.x - size.width / 2, p.y - size.height / 2, size.width, size.height}});
  };
  const auto add_raster = [&] {
    add(middle);
    for (int a = 1; a < 12; ++a)
      for (int b = 1; b < 12; ++b) {
        const Point at{box.low.x + (box.high.x - box.low.x) * a / 12,
                       box.low.y + (box.high.y - box.low.y) * b / 12};
        if (contains(outline, at)) add(at);
      }
  };
  add_raster();
  all = ranked.empty();
  if (all) add_raster();
  std::stable_sort(ranked.begin(), ranked.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<Rectangle> places;
  for (const auto& [rank, place] : ranked) places.push_back(place);
  return places;
}

Point middle_of(const Rectangle& box) {
  return {box.x + box.width / 2, box.y + box.height / 2};
}

// Places beside an outline too narrow for its name: far enough off that a line leads to it.
std::vector<Rectangle> places_outside(const MapView& view, const Polygon& outline, const Size& size) {
  const Box box = bounds(outline);
  const Point low = view.at({box.low.x, box.high.y}), high = view.at({box.high.x, box.low.y}); // y is down
  std::vector<Rectangle> places;
  for (const double gap : {14.0, 24.0, 38.0})
    for (const double share : {0.5, 0.2, 0.8, 0.0, 1.0}) {
      const double x = low.x + share * (high.x - low.x) - size.width / 2;
      const double y = low.y + share * (high.y - low.y) - size.height / 2;
      places.push_back({x, high.y + gap, size.width, size.height});
      places.push_back({x, low.y - gap - size.height, size.width, size.height});
      places.push_back({high.x + gap, y, size.width, size.height});
      places.push_back({low.x - gap - size.width, y, size.width, size.height});
    }
  return places;
}

// Whether a name would stand on a building that it does not name: it would be read as that one's.
bool on_another(const MapView& view, const std::vector<site::Building>& buildings, const std::string& name,
                const Rectangle& place) {
  return std::any_of(buildings.begin(), buildings.end(), [&](const site::Building& building) {
    if (building.name == name || building.outline.empty()) return false;
    const Box box = bounds(building.outline);
    const Point low = view.at({box.low.x, box.high.y}), high = view.at({box.high.x, box.low.y}); // y is down
    return overlap({low.x, low.y, high.x - low.x, high.y - low.y}, place) > 0;
  });
}

void add_name(cairo_t* context, const MapView& view, const std::string& name, const Polygon& outline,
              const TextStyle& style, const std::vector<site::Building>& buildings,
              std::vector<Label>& labels, const std::function<bool(const Point&)>& seen) {
  if (name.empty() || outline.size() < 3) return;
  Label label{name, style, {}, {}, {}};
  // As wide as what it names, or a good part of the drawing: what is cut can still be told apart.
  const Box box = bounds(outline);
  const double own = (view.at(box.high).x - view.at(box.low).x) / view.frame_of_names().width;
  fit_in_width(context, view, "", label, std::min(1.0, std::max(own, part_of_width)));
  const Size size = label.size;
  label.candidates = places_inside(view, outline, size, seen);
  for (const Rectangle& place : label.candidates) label.about.push_back(middle_of(place));
  std::vector<Rectangle> outside = places_outside(view, outline, size);
  std::erase_if(outside, [&](const Rectangle& place) { return on_another(view, buildings, name, place); });
  label.candidates.insert(label.candidates.end(), outside.begin(), outside.end());
  labels.push_back(std::move(label));
}

void add_point(cairo_t* context, const MapView& view, const site::Gauge& gauge, std::vector<Label>& labels,
               std::vector<Obstacle>& obstacles) {
  TextStyle style;
  style.size = 7.5;
  style.italic = true;
  style.halo = true;
  const Point at = view.at(gauge.at);
  Label label{gauge.name, style, {}, {}, {at}};
  fit_in_width(context, view, "", label, part_of_width);
  const Size size = label.size;
  for (const double away : {5.0, 12.0, 20.0, 30.0, 42.0})
    for (const double dx : {away, -away - size.width, -size.width / 2})
      for (const double dy : {-size.height / 2, -away - size.height, away})
        label.candidates.push_back({at.x + dx, at.y + dy, size.width, size.height});
  labels.push_back(std::move(label));
  obstacles.push_back({{at.x - 4, at.y - 4, 8, 8}, weight_of_marks});
}

void add_outline(const MapView& view, const std::vector<Point>& outline, bool closed,
                 std::vector<Obstacle>& obstacles) {
  std::vector<Point> line;
  for (const Point& corner : outline) line.push_back(view.at(corner));
  if (closed && !line.empty()) line.push_back(line.front());
  add_obstacles(line, 2, weight_of_outlines, obstacles);
}

void draw_cross(cairo_t* context, const Point& at) {
  for (const bool halo : {true, false}) {
    cairo_move_to(context, at.x - 3.5, at.y);
    cairo_line_to(context, at.x + 3.5, at.y);
    cairo_move_to(context, at.x, at.y - 3.5);
    cairo_line_to(context, at.x, at.y + 3.5);
    halo ? cairo_set_source_rgb(context, 1, 1, 1) : set_color(context, outline_ink);
    cairo_set_line_width(context, halo ? 3.2 : 1.3);
    cairo_stroke(context);
  }
}

void stroke_shape(cairo_t* context, const MapView& view, const std::vector<Point>& points, bool closed,
                  double width) {
  trace(context, view, points, closed);
  set_color(context, outline_ink);
  cairo_set_line_width(context, width);
  cairo_stroke(context);
}

} // namespace

const Field& drawn_ground(const results::Comparison& comparison, const results::DesignRecord* design) {
  const bool own = design && design->own_elevation.size() == comparison.elevation.size();
  return own ? design->own_elevation : comparison.elevation;
}

double contour_step(const results::Comparison& comparison, const Units& units) {
  double step = 0;
  const auto [low, high] = range_of(comparison.elevation, comparison.active);
  if (high > low) round_levels(low, high, units.elevation.si, most_contours, &step);
  return step;
}

std::vector<double> contour_levels(const results::Comparison& comparison, const Units& units,
                                   const results::DesignRecord* design) {
  const auto [low, high] = range_of(drawn_ground(comparison, design), comparison.active);
  if (!(high > low)) return {};
  const double step = contour_step(comparison, units);
  // Works in a level yard, or far above and below its ground, have a step of their own.
  if (!(step > 0) || (high - low) / step > 3 * most_contours)
    return round_levels(low, high, units.elevation.si, most_contours);
  std::vector<double> levels;
  for (double k = std::ceil(low / step); k * step <= high; ++k) levels.push_back(k * step);
  return levels;
}

void draw_ground(cairo_t* context, const MapView& view, const MapScene& scene,
                 const results::DesignRecord* design) {
  const Field& elevation = drawn_ground(scene.comparison, design);
  draw_image(context, ground_image(scene.comparison, scene.site, elevation), view.left, view.top,
             view.width(), view.height());
  set_color(context, rgb({0.50, 0.03, 80}), 0.6);
  cairo_set_line_width(context, 0.5);
  for (const double level : contour_levels(scene.comparison, scene.units, design))
    for (const Polyline& line : isolines(elevation, scene.comparison.active, view.grid, level))
      trace(context, view, line, false);
  cairo_stroke(context);
}

void draw_water(cairo_t* context, const MapView& view, const MapScene& scene, const Field& field,
                const Scale& scale) {
  if (field.size() != view.grid.cells()) return;
  draw_image(context, class_image(field, scene.comparison.active, view.grid, scale), view.left, view.top,
             view.width(), view.height());
  if (scale.target < 0) return;
  for (const Polyline& line :
       isolines(field, scene.comparison.active, view.grid, scale.target * scale.unit_si))
    trace(context, view, line, false);
  cairo_set_line_join(context, CAIRO_LINE_JOIN_ROUND);
  cairo_set_source_rgba(context, 1, 1, 1, 0.9);
  cairo_set_line_width(context, 3);
  cairo_stroke_preserve(context);
  cairo_set_source_rgb(context, 0, 0, 0);
  cairo_set_line_width(context, 1.3);
  cairo_stroke(context);
}

std::vector<Obstacle> wet_places(const MapView& view, const MapScene& scene, const Field& field,
                                 const Scale& scale) {
  std::vector<Obstacle> places;
  if (field.size() != view.grid.cells()) return places;
  const double side = view.grid.cell * view.scale;
  for (std::size_t cell = 0; cell < field.size(); ++cell) {
    if (!scene.comparison.active[cell] || class_of(scale, field[cell] / scale.unit_si) < 2) continue;
    const Point middle = view.at({view.grid.x(view.grid.column(cell)), view.grid.y(view.grid.row(cell))});
    places.push_back({{middle.x - side / 2, middle.y - side / 2, side, side}});
  }
  return places;
}

void draw_outlines(cairo_t* context, const MapView& view, const MapScene& scene,
                   const results::DesignRecord& record, std::vector<Obstacle> keep_clear) {
  const site::Site& site = scene.site;
  for (const site::Area& area : site.areas) stroke_shape(context, view, area.outline, true, 0.8);
  for (const site::Building& building : site.buildings) {
    hatch(context, view, building.outline);
    stroke_shape(context, view, building.outline, true, 1.4);
  }
  for (const site::Wall& wall : site.walls) stroke_shape(context, view, wall.line, false, 2.4);
  stroke_shape(context, view, site.outline, true, 1.2);

  std::vector<Label> labels;
  std::vector<Obstacle> obstacles = std::move(keep_clear);
  if (const site::Design* design = works_of(site, record)) {
    draw_works(context, view, *design);
    label_works(context, view, *design, record, scene.units, labels, obstacles);
  }
  for (const site::Area& area : site.areas) add_outline(view, area.outline, true, obstacles);
  for (const site::Building& building : site.buildings) add_outline(view, building.outline, true, obstacles);
  for (const site::Wall& wall : site.walls) add_outline(view, wall.line, false, obstacles);
  TextStyle style;
  style.halo = true;
  style.bold = true;
  for (const site::Building& building : site.buildings)
    add_name(context, view, building.name, building.outline, style, site.buildings, labels,
             [](const Point&) { return true; });
  style.bold = false;
  for (std::size_t a = 0; a < site.areas.size(); ++a)
    add_name(context, view, site.areas[a].name, site.areas[a].outline, style, site.buildings, labels,
             [&](const Point& at) { return lies_on_top(site, a, at); });
  for (const site::Gauge& gauge : site.gauges) {
    draw_cross(context, view.at(gauge.at));
    add_point(context, view, gauge, labels, obstacles);
  }
  const Rectangle frame = view.frame_of_names();
  const Rectangle inner{frame.x + 2, frame.y + 2, frame.width - 4, frame.height - 4};
  draw_labels(context, place_labels(labels, std::move(obstacles), inner));
}

} // namespace lowspot::report
