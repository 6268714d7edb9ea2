#include <lowspot/report/levels_picture.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <utility>

#include <lowspot/base/text.hpp>
#include <lowspot/report/isolines.hpp>
#include <lowspot/report/label_layout.hpp>
#include <lowspot/report/levels_words.hpp>
#include <lowspot/report/map_furniture.hpp>
#include <lowspot/report/map_image.hpp>
#include <lowspot/report/map_view.hpp>
#include <lowspot/results/output_folder.hpp>

namespace lowspot::report {
namespace {

constexpr double margin = 20, title_height = 46, pixels_per_point = 2;
constexpr int most_contours = 12;
const Rgb ink{0.12, 0.12, 0.14}, faint{0.36, 0.36, 0.40};
const Rgb alarm = rgb({0.45, 0.19, 350});
const Rgb wanted = rgb({0.36, 0.12, 265});

MapView view_of(const terrain::LevelReview& review) {
  const Grid& grid = review.ground.grid;
  const double scale = std::min(600 / (grid.nx * grid.cell), 560 / (grid.ny * grid.cell));
  return {grid, margin, margin + title_height, scale};
}

void stroke(cairo_t* context, const MapView& view, const std::vector<Point>& points, bool closed,
            const Rgb& color, double width) {
  trace(context, view, points, closed);
  set_color(context, color);
  cairo_set_line_width(context, width);
  cairo_stroke(context);
}

void draw_triangles(cairo_t* context, const MapView& view, const terrain::Tin& tin) {
  auto side = [&](int a, int b) {
    trace(context, view, {{tin.points[a].x, tin.points[a].y}, {tin.points[b].x, tin.points[b].y}}, false);
  };
  for (std::size_t t = 0; t < tin.triangles.size(); ++t)
    for (int k = 0; k < 3; ++k)
      if (tin.triangles[t].beside[k] < static_cast<int>(t))
        side(tin.triangles[t].corner[(k + 1) % 3], tin.triangles[t].corner[(k + 2) % 3]);
  set_color(context, rgb({0.62, 0.005, 260}), 0.75);
  cairo_set_line_width(context, 0.35);
  cairo_stroke(context);
  for (const auto& [a, b] : tin.fixed) side(a, b);
  set_color(context, ink);
  cairo_set_line_width(context, 1.5);
  cairo_stroke(context);
}

void draw_contours(cairo_t* context, const MapView& view, const terrain::Ground& ground, const Units& units,
                   std::vector<Label>& labels, double& step) {
  double low = std::numeric_limits<double>::infinity(), high = -low;
  for (std::size_t c = 0; c < ground.elevation.size(); ++c)
    if (ground.active[c]) {
      low = std::min(low, ground.elevation[c]);
      high = std::max(high, ground.elevation[c]);
    }
  TextStyle style;
  style.size = 6.5;
  style.color = rgb({0.42, 0.07, 70});
  style.halo = true;
  for (const double level : round_levels(low, high, units.elevation.si, most_contours, &step)) {
    const std::vector<Polyline> lines = isolines(ground.elevation, ground.active, ground.grid, level);
    const Polyline* longest = nullptr;
    for (const Polyline& line : lines) {
      stroke(context, view, line, false, rgb({0.50, 0.07, 70}), 0.8);
      if (!longest || length(line) > length(*longest)) longest = &line;
    }
    if (!longest) continue;
    const std::string text = rounded(units.elevation.of(level), 7);
    const Size size = text_size(context, text, style);
    Label label{text, style, size, {}, {}};
    for (const double share : {0.5, 0.3, 0.7, 0.15, 0.85}) {
      const Point at = view.at(point_along(*longest, share * length(*longest)));
      label.candidates.push_back({at.x - size.width / 2, at.y - size.height / 2, size.width, size.height});
    }
    labels.push_back(label);
  }
}

Label label_beside(cairo_t* context, const Point& at, double gap, const std::string& text,
                   const TextStyle& style) {
  const Size size = text_size(context, text, style);
  Label label{text, style, size, {}, {}};
  for (const double away : {gap, gap + 5, gap + 12, gap + 24}) {
    label.candidates.push_back({at.x + away, at.y - size.height / 2, size.width, size.height});
    label.candidates.push_back({at.x - away - size.width, at.y - size.height / 2, size.width, size.height});
    label.candidates.push_back({at.x - size.width / 2, at.y - away - size.height, size.width, size.height});
    label.candidates.push_back({at.x - size.width / 2, at.y + away, size.width, size.height});
  }
  return label;
}

void dot(cairo_t* context, const Point& at, double radius, bool halo) {
  if (halo) {
    cairo_arc(context, at.x, at.y, radius + 1, 0, 2 * std::numbers::pi);
    cairo_set_source_rgb(context, 1, 1, 1);
    cairo_fill(context);
  }
  cairo_arc(context, at.x, at.y, radius, 0, 2 * std::numbers::pi);
  set_color(context, ink);
  cairo_fill(context);
}

void cross(cairo_t* context, const Point& at) {
  for (const bool halo : {true, false}) {
    for (const double turn : {1.0, -1.0}) {
      cairo_move_to(context, at.x - 4.5, at.y - 4.5 * turn);
      cairo_line_to(context, at.x + 4.5, at.y + 4.5 * turn);
    }
    halo ? cairo_set_source_rgb(context, 1, 1, 1) : set_color(context, wanted);
    cairo_set_line_width(context, halo ? 4.6 : 2.2);
    cairo_stroke(context);
  }
}

void ring(cairo_t* context, const Point& at) {
  for (const bool halo : {true, false}) {
    cairo_arc(context, at.x, at.y, 6, 0, 2 * std::numbers::pi);
    halo ? cairo_set_source_rgb(context, 1, 1, 1) : set_color(context, alarm);
    cairo_set_line_width(context, halo ? 4 : 2);
    cairo_stroke(context);
  }
}

std::string wrong_text(const terrain::Suspicion& suspicion, const site::Site& site) {
  switch (suspicion.kind) {
  case terrain::SuspicionKind::swapped_place:
    return suspicion.name + ": x and y swapped?";
  case terrain::SuspicionKind::two_elevations:
    return suspicion.name + ": two elevations";
  default:
    return suspicion.name + ": " + small_height(suspicion.off, site) +
           (suspicion.off > 0 ? " high?" : " low?");
  }
}

void draw_points(cairo_t* context, const MapView& view, const terrain::LevelReview& review,
                 const site::Site& site, std::vector<Label> contour_labels) {
  const Rectangle frame = view.frame();
  std::vector<Label> labels;
  std::vector<Obstacle> obstacles;
  TextStyle style;
  style.halo = true;
  for (const terrain::Shot& shot : review.book.shots) {
    const Point at = view.at({shot.at.x, shot.at.y});
    dot(context, at, 1.5, true);
    obstacles.push_back({{at.x - 2.5, at.y - 2.5, 5, 5}, weight_of_marks});
  }
  style.size = 8.5;
  style.bold = true;
  style.color = alarm;
  for (const terrain::Suspicion& suspicion : review.check.shots) {
    const Point at = view.at(suspicion.at);
    ring(context, at);
    obstacles.push_back({{at.x - 7, at.y - 7, 14, 14}, weight_of_marks});
    labels.push_back(label_beside(context, at, 8, wrong_text(suspicion, site), style));
  }
  style.size = 11;
  style.color = wanted;
  for (std::size_t k = 0; k < review.next.size(); ++k) {
    const Point at = view.at(review.next[k].at);
    cross(context, at);
    obstacles.push_back({{at.x - 6, at.y - 6, 12, 12}, weight_of_marks});
    labels.push_back(label_beside(context, at, 7, std::to_string(k + 1), style));
  }
  labels.insert(labels.end(), contour_labels.begin(), contour_labels.end());
  style.size = 6.5;
  style.bold = false;
  style.color = faint;
  for (const terrain::Shot& shot : shots_to_name(review))
    labels.push_back(label_beside(context, view.at({shot.at.x, shot.at.y}), 3.5, shot.name, style));
  const Rectangle around{frame.x - 10, frame.y - 10, frame.width + 20, frame.height + 20};
  draw_labels(context, place_labels(labels, std::move(obstacles), around));
}

std::string notes(const terrain::LevelReview& review, const site::Site& site, double step) {
  const Units units = units_for(site.units);
  std::string text = "Dots: shots. Grey: triangles between them; black: breaklines.";
  if (step > 0) text += " Brown: contours every " + amount(step, units.elevation, 3) + ".";
  if (!review.check.shots.empty()) text += " Ringed: looks wrong.";
  if (!review.next.empty()) text += " Numbered crosses: where one more shot would tell most.";
  return text;
}

} // namespace

std::vector<terrain::Shot> shots_to_name(const terrain::LevelReview& review) {
  constexpr double same_place = 0.05; // m
  std::vector<terrain::Shot> named;
  for (const terrain::Shot& shot : review.book.shots)
    if (std::none_of(named.begin(), named.end(), [&](const terrain::Shot& other) {
          return other.name == shot.name &&
                 std::hypot(other.at.x - shot.at.x, other.at.y - shot.at.y) < same_place;
        }))
      named.push_back(shot);
  return named;
}

Scale doubt_scale(const Field& doubt, const Units& units) {
  Scale scale;
  scale.unit = units.depth.name;
  scale.unit_si = units.depth.si;
  scale.title = "How far off the ground may be between the shots (" + scale.unit + ")";
  const std::vector<double> all = units.metric ? std::vector<double>{2, 5, 10, 20, 50, 100, 200}
                                               : std::vector<double>{0.1, 0.25, 0.5, 1, 2, 4, 8};
  double most = 0;
  for (double value : doubt)
    if (std::isfinite(value)) most = std::max(most, units.depth.of(value));
  for (double bound : all)
    if (bound < most || scale.bounds.size() < 3) scale.bounds.push_back(bound);
  for (std::size_t k = 0; k < scale.bounds.size(); ++k)
    scale.colors.push_back(
        sample(hours_ramp(), 0.72 * static_cast<double>(k) / static_cast<double>(scale.bounds.size() - 1)));
  return scale;
}

Size levels_sheet_size(const terrain::LevelReview& review, const site::Site& site) {
  const MapView view = view_of(review);
  const double legend = legend_width(doubt_scale(review.doubt, units_for(site.units)));
  return {std::max({view.width(), legend + 200, 440.0}) + 2 * margin, view.top + view.height() + 114};
}

void draw_levels_sheet(cairo_t* context, const terrain::LevelReview& review, const site::Site& site) {
  const Units units = units_for(site.units);
  const Size sheet = levels_sheet_size(review, site);
  const MapView view = view_of(review);
  const Scale scale = doubt_scale(review.doubt, units);
  TextStyle style;
  style.size = 13;
  style.bold = true;
  style.color = ink;
  draw_text(context, margin, margin - 6, "Levels: " + site.name, style);
  style.size = 8.5;
  style.bold = false;
  style.color = faint;
  style.width = sheet.width - 2 * margin;
  draw_text(context, margin, margin + 12, levels_sentence(review, site), style);

  draw_image(context, class_image(review.doubt, review.ground.active, review.ground.grid, scale), view.left,
             view.top, view.width(), view.height());
  for (const site::Building& building : site.buildings) {
    trace(context, view, building.outline, true);
    set_color(context, rgb({0.86, 0.004, 260}));
    cairo_fill(context);
  }
  draw_triangles(context, view, review.tin);
  std::vector<Label> labels;
  double step = 0;
  draw_contours(context, view, review.ground, units, labels, step);
  for (const site::Area& area : site.areas) stroke(context, view, area.outline, true, faint, 0.7);
  for (const site::Building& building : site.buildings)
    stroke(context, view, building.outline, true, ink, 1.2);
  stroke(context, view, site.outline, true, ink, 1.2);
  draw_points(context, view, review, site, labels);

  const double y = view.top + view.height() + 14;
  style.size = 9;
  style.bold = true;
  style.color = ink;
  style.width = 0;
  draw_text(context, margin, y, scale.title, style);
  draw_legend(context, margin + 8, y + 12, scale);
  const double bar = draw_scale_bar(context, sheet.width - margin - 150, y + 20, view.scale, units, 100);
  draw_north(context, sheet.width - margin - 150 + std::max(bar, 60.0) + 40, y + 28, site.north);
  style.size = 7.5;
  style.bold = false;
  style.color = faint;
  style.width = sheet.width - 2 * margin;
  draw_text(context, margin, y + 56, notes(review, site, step), style);
}

void write_levels(const terrain::LevelReview& review, const site::Site& site,
                  const std::filesystem::path& folder) {
  results::prepare_output_folder(folder, site.name);
  const Size size = levels_sheet_size(review, site);
  const Drawing drawing = [&](cairo_t* context) { draw_levels_sheet(context, review, site); };
  results::write_whole_file(folder / "levels.png", png(size, pixels_per_point, true, drawing));
  results::write_whole_file(folder / "levels.pdf",
                            pdf_page(size, site.units == "m", "Levels: " + site.name, drawing));
  results::write_whole_file(folder / "levels_reduced.csv", reduced_csv(review, site));
}

} // namespace lowspot::report
