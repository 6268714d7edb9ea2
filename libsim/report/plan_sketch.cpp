#include <lowspot/report/plan_sketch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

#include <lowspot/report/isolines.hpp>
#include <lowspot/report/map_furniture.hpp>
#include <lowspot/report/map_works.hpp>
#include <lowspot/report/sheet.hpp>
#include <lowspot/report/station_marks.hpp>

namespace lowspot::report {
namespace {

constexpr double footer = 26;  // scale bar and north
constexpr double pixels = 2.4; // a point
constexpr double narrow = 140; // a yard drawn narrower leaves names no room: they get paper beside it
constexpr double most_paper = 200, share_beside = 0.6; // in all, and of it at its right, the rest at its left
constexpr double arrow_every = 30;
constexpr double flat = 0.002; // ground that falls less has no arrow [m/m]
const Rgb ink{0.12, 0.12, 0.14};
const Rgb fall_ink{0.16, 0.38, 0.52};
const Rgb line_ink{0.66, 0.10, 0.10}; // of what may not be dug into

double legend_room(const PlanSketch& sketch) {
  return sketch.water ? legend_height + 6 : 0;
}

MapView view_of(const PlanSketch& sketch) {
  const Grid& grid = sketch.scene.comparison.grid;
  const double wide = sketch.room.width - 2 * sketch_rim;
  const double high = sketch.room.height - 2 * sketch_rim - footer - legend_room(sketch);
  const double scale = std::min(wide / (grid.nx * grid.cell), high / (grid.ny * grid.cell));
  const double width = grid.nx * grid.cell * scale;
  const double paper = width < narrow ? std::min(most_paper, sketch.room.width - 2 * sketch_rim - width) : 0;
  // What lies at the west side is named there.
  const double beside = std::max(0.0, share_beside * paper), before = std::max(0.0, paper - beside);
  return {grid, sketch_rim + before, sketch_rim, scale, beside, before};
}

void draw_marks(cairo_t* context, const std::vector<SketchMark>& marks) {
  for (const SketchMark& mark : marks) {
    cairo_new_sub_path(context);
    cairo_arc(context, mark.at.x, mark.at.y, 1.7, 0, 2 * std::numbers::pi);
    cairo_set_source_rgb(context, 1, 1, 1);
    cairo_fill_preserve(context);
    set_color(context, ink);
    cairo_set_line_width(context, 0.8);
    cairo_stroke(context);
    if (!mark.text.empty()) draw_text(context, mark.room.x, mark.room.y, mark.text, small_lettering());
  }
}

void draw_corner(cairo_t* context, const MapView& view, const job::Corner& corner) {
  const Point at = view.at(corner.at);
  cairo_new_sub_path(context);
  cairo_arc(context, at.x, at.y, 5.4, 0, 2 * std::numbers::pi);
  set_color(context, ink);
  cairo_fill(context);
  TextStyle style;
  style.size = 7.5;
  style.bold = true;
  style.color = {1, 1, 1};
  const Size size = text_size(context, corner.letter, style);
  draw_text(context, at.x - size.width / 2, at.y - size.height / 2, corner.letter, style);
}

void draw_fall_arrow(cairo_t* context, const Point& at, const Point& fall) {
  cairo_save(context);
  cairo_translate(context, at.x, at.y);
  cairo_rotate(context, std::atan2(-fall.y, fall.x)); // north is up on paper
  cairo_move_to(context, -7, 0);
  cairo_line_to(context, 5, 0);
  set_color(context, fall_ink);
  cairo_set_line_width(context, 1);
  cairo_stroke(context);
  cairo_move_to(context, 7.5, 0);
  cairo_line_to(context, 2.5, -2.6);
  cairo_line_to(context, 2.5, 2.6);
  cairo_close_path(context);
  cairo_fill(context);
  cairo_restore(context);
}

void draw_fall(cairo_t* context, const PlanSketch& sketch, const MapView& view) {
  const results::Comparison& all = sketch.scene.comparison;
  const int every = std::max(2, static_cast<int>(std::lround(arrow_every / (view.scale * all.grid.cell))));
  const int reach = std::max(1, every / 3);
  for (int j = every / 2; j < all.grid.ny; j += every)
    for (int i = every / 2; i < all.grid.nx; i += every) {
      if (!all.active[all.grid.index(i, j)]) continue;
      const Point fall = fall_at(sketch, i, j, reach); // over a few cells: of the yard and not its grass
      if (!(std::hypot(fall.x, fall.y) > flat)) continue;
      draw_fall_arrow(context, view.at({all.grid.x(i), all.grid.y(j)}), fall);
    }
}

// Where pipes and outlets are drawn, and the names of outlets will be wanted.
std::vector<Rectangle> rooms_of_works(const PlanSketch& sketch, const MapView& view) {
  std::vector<Rectangle> rooms;
  const site::Design* design = works_of(sketch.scene.site, sketch.record);
  if (design == nullptr) return rooms;
  for (const site::Outlet& outlet : design->outlets) {
    const Point at = view.at(outlet.at);
    rooms.push_back({at.x - 80, at.y - 22, 160, 28});
  }
  std::vector<Obstacle> pipes;
  for (const site::Run& run : design->runs) {
    std::vector<Point> line;
    for (const Point& point : run.path) line.push_back(view.at(point));
    add_obstacles(line, 4, weight_of_marks, pipes);
  }
  for (const Obstacle& piece : pipes) rooms.push_back(piece.box);
  return rooms;
}

// Where each contour is labelled: on its longest line, away from the middle where names stand if it can be,
// and beside the labels of other contours, or not at all.
std::vector<SketchMark> elevation_marks(cairo_t* context, const PlanSketch& sketch, const MapView& view) {
  std::vector<SketchMark> marks;
  const results::Comparison& all = sketch.scene.comparison;
  const std::vector<Rectangle> works = rooms_of_works(sketch, view);
  const Field& ground = drawn_ground(all, &sketch.record);
  const std::vector<double> levels = contour_levels(all, sketch.scene.units, &sketch.record);
  for (const double level : levels) {
    const Polyline* longest = nullptr;
    const std::vector<Polyline> lines = isolines(ground, all.active, all.grid, level);
    for (const Polyline& line : lines)
      if (longest == nullptr || length(line) > length(*longest)) longest = &line;
    if (longest == nullptr || length(*longest) * view.scale < 40) continue;
    std::vector<Point> middles;
    for (const double share : {0.25, 0.75, 0.12, 0.88, 0.38, 0.62, 0.5})
      middles.push_back(view.at(point_along(*longest, share * length(*longest))));
    const double step = levels.size() > 1 ? levels[1] - levels[0] : 0;
    SketchMark mark{{}, contour_text(level, step, sketch.scene.units), {}};
    const Size size = text_size(context, mark.text, small_lettering());
    std::vector<Rectangle> taken = works;
    for (const SketchMark& each : marks) taken.push_back(each.room);
    const std::optional<Rectangle> room = free_room(middles, size, taken);
    if (!room) continue;
    mark.room = *room;
    mark.at = {room->x + room->width / 2, room->y + room->height / 2};
    marks.push_back(mark);
  }
  return marks;
}

TextStyle line_lettering() {
  TextStyle style = small_lettering();
  style.italic = true;
  style.color = line_ink;
  return style;
}

// As thick as its trunk, where that is large enough to be seen.
double tree_radius(const MapView& view, const site::Tree& tree) {
  return std::max(3.5, view.scale * tree.trunk / 2);
}

void draw_tree(cairo_t* context, const MapView& view, const site::Tree& tree) {
  const Point at = view.at(tree.at);
  cairo_new_sub_path(context);
  cairo_arc(context, at.x, at.y, tree_radius(view, tree), 0, 2 * std::numbers::pi);
  set_color(context, line_ink);
  cairo_fill(context);
}

// Utilities and lot lines, dashed, and trees on a plan to dig from. Returns their names, to be drawn over the
// buildings, which would hide them.
std::vector<SketchMark> draw_known_lines(cairo_t* context, const PlanSketch& sketch, const MapView& view,
                                         std::vector<Obstacle>& keep_clear) {
  std::vector<SketchMark> names;
  const site::Site& site = sketch.scene.site;
  const Rectangle frame = view.frame();
  std::vector<Rectangle> taken = rooms_of_works(sketch, view);
  for (const Obstacle& obstacle : keep_clear) taken.push_back(obstacle.box);
  const TextStyle style = line_lettering();
  const auto draw = [&](const std::string& name, Polyline path, bool closed) {
    if (path.size() < 2) return; // a place, such as a well
    if (closed) path.push_back(path.front());
    cairo_save(context);
    cairo_rectangle(context, frame.x - 2, frame.y - 2, frame.width + 4, frame.height + 4);
    cairo_clip(context);
    trace(context, view, path, false);
    set_color(context, line_ink);
    cairo_set_line_width(context, 1.1);
    const double dashes[] = {6, 2.5, 1.5, 2.5};
    cairo_set_dash(context, dashes, 4, 0);
    cairo_stroke(context);
    cairo_restore(context);
    const std::string text = short_name(name, 26);
    const Size size = text_size(context, text, style);
    std::vector<Point> middles;
    for (const double beside : {0.0, 9.0, -9.0, 18.0, -18.0})
      for (const double share : {0.5, 0.3, 0.7, 0.4, 0.6, 0.2, 0.8, 0.1, 0.9}) {
        Point at = view.at(point_along(path, share * length(path)));
        if (!holds({frame.x - 4, frame.y - 4, frame.width + 8, frame.height + 8}, {at.x, at.y, 0, 0}))
          continue; // beyond the yard
        at.x = std::clamp(at.x, frame.x + size.width / 2,
                          std::max(frame.x + size.width / 2, frame.x + frame.width - size.width / 2));
        at.y = std::clamp(at.y + beside, frame.y + size.height / 2,
                          std::max(frame.y + size.height / 2, frame.y + frame.height - size.height / 2));
        middles.push_back(at);
      }
    const std::optional<Rectangle> room = free_room(middles, size, taken);
    if (!room) return;
    names.push_back({{}, text, *room});
    taken.push_back(*room);
    keep_clear.push_back({*room, weight_of_words});
  };
  for (const site::Utility& line : site.utilities) draw(line.name, line.path, false);
  for (const site::KeepOff& line : site.keep_offs)
    draw(line.name.empty() ? line.kind : line.name, line.shape, line.closed);
  for (const site::Tree& tree : site.trees) {
    const Point at = view.at(tree.at);
    if (!holds(frame, {at.x, at.y, 0, 0})) continue; // a neighbour's
    draw_tree(context, view, tree);
    const std::string text = short_name(tree.name, 26);
    const Size size = text_size(context, text, style);
    const double up = tree_radius(view, tree) + 2 + size.height / 2;
    const double aside = tree_radius(view, tree) + 3 + size.width / 2;
    const std::optional<Rectangle> room = free_room(
        {{at.x + aside, at.y}, {at.x - aside, at.y}, {at.x, at.y - up}, {at.x, at.y + up}}, size, taken);
    if (!room || !holds(frame, *room)) continue;
    names.push_back({{}, text, *room});
    taken.push_back(*room);
    keep_clear.push_back({*room, weight_of_words});
  }
  return names;
}

} // namespace

std::string contour_text(double level, double step, const Units& units) {
  int decimals = units.metric ? 2 : 1;
  // Steps are 1, 2 or 5 times a power of ten: as many decimals as the power asks for tell them apart.
  if (const double shown = units.elevation.of(step); shown > 0)
    decimals = std::max(decimals, static_cast<int>(-std::floor(std::log10(shown) + 1e-6)));
  return fixed(units.elevation.of(level), decimals);
}

Point fall_at(const PlanSketch& sketch, int column, int row, int reach) {
  const results::Comparison& all = sketch.scene.comparison;
  const Field& ground = drawn_ground(all, &sketch.record);
  const auto z = [&](int i, int j) {
    const std::size_t cell =
        all.grid.index(std::clamp(i, 0, all.grid.nx - 1), std::clamp(j, 0, all.grid.ny - 1));
    return all.active[cell] ? ground[cell] : std::nan("");
  };
  const double run = 2 * reach * all.grid.cell;
  return {(z(column - reach, row) - z(column + reach, row)) / run,
          (z(column, row - reach) - z(column, row + reach)) / run};
}

Size sketch_size(const PlanSketch& sketch) {
  const MapView view = view_of(sketch);
  const double legend =
      sketch.water ? legend_width(scale_of(sketch.scene, *sketch.water)) + 2 * sketch_rim : 0;
  return {std::max({view.frame_of_names().width + 2 * sketch_rim, legend, 150.0}),
          view.height() + 2 * sketch_rim + footer + legend_room(sketch)};
}

void draw_sketch(cairo_t* context, const PlanSketch& sketch) {
  const MapView view = view_of(sketch);
  const MapScene& scene = sketch.scene;
  if (sketch.fall_arrows || sketch.water) draw_ground(context, view, scene, &sketch.record);
  std::vector<Obstacle> keep_clear;
  if (sketch.water) {
    const Scale scale = scale_of(scene, *sketch.water);
    draw_water(context, view, scene, field_of(sketch.record, *sketch.water), scale);
    keep_clear = wet_places(view, scene, field_of(sketch.record, *sketch.water), scale);
    draw_legend(context, sketch_rim, view.top + view.height() + 8, scale);
  }
  std::vector<SketchMark> elevations;
  if (sketch.fall_arrows) {
    draw_fall(context, sketch, view);
    elevations = elevation_marks(context, sketch, view);
  }
  for (const SketchMark& mark : elevations) keep_clear.push_back({mark.room, weight_of_words});
  const std::vector<SketchMark> marks = station_marks(context, sketch, view);
  for (const SketchMark& mark : marks)
    if (!mark.text.empty()) keep_clear.push_back({mark.room, weight_of_words});
  for (const job::Corner& corner : sketch.corners)
    keep_clear.push_back({corner_room(view, corner), weight_of_words});
  std::vector<SketchMark> names;
  if (sketch.stations != nullptr) names = draw_known_lines(context, sketch, view, keep_clear);
  site::Site shown = scene.site; // gauges are of the model, not of the job
  shown.gauges.clear();
  draw_outlines(context, view, {shown, scene.comparison, scene.units}, sketch.record, keep_clear);
  for (const SketchMark& name : names)
    draw_text(context, name.room.x, name.room.y, name.text, line_lettering());
  draw_marks(context, marks);
  for (const SketchMark& mark : elevations)
    draw_text(context, mark.room.x, mark.room.y, mark.text, small_lettering());
  for (const job::Corner& corner : sketch.corners) draw_corner(context, view, corner);
  const double y = view.top + view.height() + 8 + legend_room(sketch);
  draw_scale_bar(context, sketch_rim, y + 4, view.scale, scene.units, 90);
  draw_north(context, sketch_rim + 130, y + 13, scene.site.north);
}

std::string sketch_png(const PlanSketch& sketch) {
  return png(sketch_size(sketch), pixels, true, [&](cairo_t* context) { draw_sketch(context, sketch); });
}

} // namespace lowspot::report
