#include <lowspot/report/map_works.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include <lowspot/base/text.hpp>
#include <lowspot/report/sheet.hpp>
#include <lowspot/report/work_levels.hpp>

namespace lowspot::report {
namespace {

const Rgb ink = rgb({0.22, 0.02, 260});

void arrow_head(cairo_t* context, const Point& at, double angle, double size) {
  cairo_save(context);
  cairo_translate(context, at.x, at.y);
  cairo_rotate(context, angle);
  cairo_move_to(context, size, 0);
  cairo_line_to(context, -size * 0.7, -size * 0.75);
  cairo_line_to(context, -size * 0.35, 0);
  cairo_line_to(context, -size * 0.7, size * 0.75);
  cairo_close_path(context);
  cairo_set_source_rgb(context, 1, 1, 1);
  cairo_set_line_width(context, 1.6);
  cairo_stroke_preserve(context);
  set_color(context, ink);
  cairo_fill(context);
  cairo_restore(context);
}

// Direction of a path on the drawing, at a share of its length.
double direction(const MapView& view, const Polyline& path, double along) {
  const double reach = std::max(1e-6, 0.02 * length(path));
  const Point a = view.at(point_along(path, std::max(0.0, along - reach)));
  const Point b = view.at(point_along(path, std::min(length(path), along + reach)));
  return std::atan2(b.y - a.y, b.x - a.x);
}

void draw_run(cairo_t* context, const MapView& view, const site::Run& run) {
  cairo_set_line_join(context, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap(context, CAIRO_LINE_CAP_ROUND);
  trace(context, view, run.path, false);
  cairo_set_source_rgba(context, 1, 1, 1, 0.9);
  cairo_set_line_width(context, 5);
  cairo_stroke_preserve(context);
  set_color(context, ink);
  cairo_set_line_width(context, 2.4);
  // Pipe that takes water in is dashed, pipe that only carries is drawn through.
  if (run.pipe.slot_area > 0) {
    const double dashes[] = {5, 4.5};
    cairo_set_dash(context, dashes, 2, 0);
  }
  cairo_stroke(context);
  cairo_set_dash(context, nullptr, 0, 0);
  const double whole = length(run.path);
  const int arrows = std::clamp(static_cast<int>(whole * view.scale / 90), 1, 4);
  for (int k = 0; k < arrows; ++k) {
    const double along = whole * (k + 0.5) / arrows;
    arrow_head(context, view.at(point_along(run.path, along)), direction(view, run.path, along), 5.5);
  }
}

void dot(cairo_t* context, const Point& at, double radius) {
  cairo_new_sub_path(context);
  cairo_arc(context, at.x, at.y, radius, 0, 2 * std::numbers::pi);
  cairo_set_source_rgb(context, 1, 1, 1);
  cairo_fill_preserve(context);
  set_color(context, ink);
  cairo_set_line_width(context, 1.6);
  cairo_stroke(context);
}

std::vector<Rectangle> places_beside_path(const MapView& view, const Polyline& path, const Size& size) {
  std::vector<Rectangle> places;
  for (const double gap : {6.0, 16.0, 28.0})
    for (const double share : {0.5, 0.35, 0.65, 0.2, 0.8, 0.05, 0.95})
      for (const double side : {-1.0, 1.0}) {
        const double along = share * length(path);
        const double angle = direction(view, path, along);
        const double nx = -std::sin(angle) * side, ny = std::cos(angle) * side;
        const double away = 0.5 * (std::abs(nx) * size.width + std::abs(ny) * size.height) + gap;
        const Point at = view.at(point_along(path, along));
        places.push_back(
            {at.x + nx * away - size.width / 2, at.y + ny * away - size.height / 2, size.width, size.height});
      }
  return places;
}

std::vector<Rectangle> places_around(const Point& at, const Size& size, double gap) {
  std::vector<Rectangle> places;
  for (const double extra : {0.0, 8.0, 18.0, 30.0, 45.0}) {
    const double away = gap + extra;
    places.push_back({at.x + away, at.y - size.height / 2, size.width, size.height});
    places.push_back({at.x - away - size.width, at.y - size.height / 2, size.width, size.height});
    places.push_back({at.x + away, at.y - away - size.height, size.width, size.height});
    places.push_back({at.x - away - size.width, at.y - away - size.height, size.width, size.height});
    places.push_back({at.x - size.width / 2, at.y - away - size.height, size.width, size.height});
    places.push_back({at.x - size.width / 2, at.y + away, size.width, size.height});
  }
  return places;
}

} // namespace

const site::Design* works_of(const site::Site& site, const results::DesignRecord& record) {
  const auto found = std::find_if(site.designs.begin(), site.designs.end(),
                                  [&](const site::Design& design) { return design.name == record.name; });
  return found == site.designs.end() ? nullptr : &*found;
}

double fall_of(const site::Run& run, const results::DesignRecord& record) {
  for (const auto& profile : record.profiles)
    if (profile.run == run.name && profile.invert.size() > 1 &&
        profile.distance.size() == profile.invert.size() &&
        profile.distance.back() > profile.distance.front()) {
      double least = std::numeric_limits<double>::infinity();
      for (std::size_t k = 1; k < profile.invert.size(); ++k)
        if (const double apart = profile.distance[k] - profile.distance[k - 1]; apart > 0)
          least = std::min(least, (profile.invert[k - 1] - profile.invert[k]) / apart);
      return least;
    }
  return run.fall;
}

std::string pipe_size_text(const site::PipeChoice& pipe, const Units& units) {
  // Pipe is sold by a name of whole inches or millimetres; its inside diameter is a little off. A pipe of the
  // catalogue is called what the order calls it, on a page in metres, too.
  const auto size = pipe.name.find_first_not_of("0123456789");
  if (size != std::string::npos && size > 0 && pipe.name.compare(size, 4, " in ") == 0)
    return pipe.name.substr(0, size + 3);
  const double shown = units.depth.of(pipe.diameter);
  return (units.metric ? fixed(shown, 0) : rounded(std::round(shown * 4) / 4, 3)) + ' ' + units.depth.name;
}

std::string run_text(const site::Run& run, const results::DesignRecord& record, const Units& units) {
  std::string text = run.name + ": " + pipe_size_text(run.pipe, units);
  text += run.pipe.slot_area > 0 ? " slotted" : " solid";
  const double fall = fall_of(run, record);
  if (std::isfinite(fall)) text += ", falls " + rounded(100 * fall, 2) + " %";
  return text;
}

namespace {

// A square with bars: a grate.
void grate(cairo_t* context, const Point& at, double half) {
  cairo_rectangle(context, at.x - half, at.y - half, 2 * half, 2 * half);
  cairo_set_source_rgb(context, 1, 1, 1);
  cairo_fill_preserve(context);
  set_color(context, ink);
  cairo_set_line_width(context, 1.3);
  for (const double bar : {-0.33, 0.33}) {
    cairo_move_to(context, at.x + bar * half, at.y - half);
    cairo_line_to(context, at.x + bar * half, at.y + half);
  }
  cairo_stroke(context);
}

// Outline of works on the ground, dashed.
void shape(cairo_t* context, const MapView& view, const Polyline& line, bool closed) {
  if (line.empty()) return;
  trace(context, view, line, closed);
  set_color(context, ink);
  cairo_set_line_width(context, 1.2);
  const double dashes[] = {2, 2.5};
  cairo_set_dash(context, dashes, 2, 0);
  cairo_stroke(context);
  cairo_set_dash(context, nullptr, 0, 0);
}

void draw_channel(cairo_t* context, const MapView& view, const Polyline& path) {
  trace(context, view, path, false);
  set_color(context, ink);
  cairo_set_line_width(context, 5);
  cairo_stroke_preserve(context);
  cairo_set_source_rgb(context, 1, 1, 1);
  cairo_set_line_width(context, 2.4);
  const double dashes[] = {2, 2};
  cairo_set_dash(context, dashes, 2, 0);
  cairo_stroke(context);
  cairo_set_dash(context, nullptr, 0, 0);
}

Polyline flat(const std::vector<Point3>& path) {
  Polyline line;
  for (const Point3& point : path) line.push_back({point.x, point.y});
  return line;
}

} // namespace

void draw_works(cairo_t* context, const MapView& view, const site::Design& design) {
  for (const site::Regrade& work : design.regrades)
    shape(context, view, work.kind == "plane" ? work.outline : flat(work.path), work.kind == "plane");
  for (const site::Basin& work : design.basins) shape(context, view, work.outline, true);
  for (const site::Amend& work : design.amends) shape(context, view, work.outline, true);
  for (const site::Channel& channel : design.channels) draw_channel(context, view, channel.path);
  for (const site::Run& run : design.runs) draw_run(context, view, run);
  for (const site::Fitting& fitting : design.fittings) dot(context, view.at(fitting.at), 3.2);
  for (const site::Inlet& inlet : design.inlets) grate(context, view.at(inlet.at), 4.2);
  for (const site::Outlet& outlet : design.outlets) {
    dot(context, view.at(outlet.at), 5.2);
    dot(context, view.at(outlet.at), 2.0);
  }
}

namespace {
// Of the width of a drawing, what is said about a pipe; its name alone where that would be longer.
constexpr double most_of_width = 0.45;
// Between a name and the limit of the drawing.
constexpr double border = 3;

// On a narrow drawing a name that would stand over its limit is moved inside.
void add_kept_inside(const MapView& view, std::vector<Rectangle>& places) {
  const Rectangle frame = view.frame_of_names();
  const std::size_t count = places.size();
  for (std::size_t k = 0; k < count; ++k) {
    Rectangle place = places[k];
    const double most = frame.x + frame.width - border - place.width;
    place.x = std::clamp(place.x, std::min(frame.x + border, most), std::max(frame.x + border, most));
    if (place.x != places[k].x) places.push_back(place);
  }
}

void add_mark(const Point& at, double half, std::vector<Obstacle>& obstacles) {
  obstacles.push_back({{at.x - half, at.y - half, 2 * half, 2 * half}, weight_of_marks});
}
} // namespace

void fit_in_width(cairo_t* context, const MapView& view, const std::string& shorter, Label& label,
                  double share) {
  const double room = share * view.frame_of_names().width - 2 * border;
  const auto fits = [&] {
    label.size = text_size(context, label.text, label.style);
    return label.size.width <= room;
  };
  if (fits()) return;
  if (!shorter.empty()) label.text = shorter;
  const std::string whole = label.text;
  for (std::size_t letters = whole.size(); !fits() && letters > 2; --letters)
    label.text = short_name(whole, letters);
}

void label_works(cairo_t* context, const MapView& view, const site::Design& design,
                 const results::DesignRecord& record, const Units& units, std::vector<Label>& labels,
                 std::vector<Obstacle>& obstacles) {
  TextStyle style;
  style.size = 8;
  style.bold = true;
  style.halo = true;
  style.color = ink;
  const auto name_beside = [&](const std::string& name, const Point& at, const std::string& shorter = "") {
    Label label{name, style, {}, {}, {view.at(at)}};
    fit_in_width(context, view, shorter, label);
    label.candidates = places_around(view.at(at), label.size, 8);
    add_kept_inside(view, label.candidates);
    labels.push_back(std::move(label));
  };
  for (const site::Outlet& outlet : design.outlets)
    name_beside(named_with_kind(outlet.name, outlet.kind), outlet.at, outlet.name);
  for (const site::Fitting& fitting : design.fittings) add_mark(view.at(fitting.at), 4, obstacles);
  for (const site::Inlet& inlet : design.inlets) add_mark(view.at(inlet.at), 5, obstacles);
  for (const site::Outlet& outlet : design.outlets) add_mark(view.at(outlet.at), 6, obstacles);
  for (const site::Inlet& inlet : design.inlets) name_beside(inlet.name, inlet.at);
  for (const site::Channel& channel : design.channels)
    name_beside(channel.name, point_along(channel.path, length(channel.path) / 2));
  for (const site::Basin& basin : design.basins) name_beside(basin.name, centroid(basin.outline));
  for (const site::Amend& amend : design.amends) name_beside(amend.name, centroid(amend.outline));
  for (const site::Regrade& work : design.regrades)
    name_beside(named_with_kind(work.name, work.kind),
                work.kind == "plane" ? centroid(work.outline)
                                     : point_along(flat(work.path), length(flat(work.path)) / 2));
  for (const site::Run& run : design.runs) {
    Label label{run_text(run, record, units), style, {}, {}, {}};
    label.size = text_size(context, label.text, style);
    if (label.size.width >
        most_of_width * view.frame_of_names().width) { // no room beside the pipes of a small drawing
      label.text = run.name;
      fit_in_width(context, view, "", label);
    }
    label.candidates = places_beside_path(view, run.path, label.size);
    add_kept_inside(view, label.candidates);
    const double whole = length(run.path);
    const int pieces = std::max(2, static_cast<int>(whole * view.scale / 6));
    for (int k = 0; k <= pieces; ++k)
      label.about.push_back(view.at(point_along(run.path, whole * k / pieces)));
    add_obstacles(label.about, 6, weight_of_marks, obstacles);
    labels.push_back(std::move(label));
  }
}

} // namespace lowspot::report
