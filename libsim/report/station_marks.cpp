#include <lowspot/report/station_marks.hpp>

#include <algorithm>
#include <optional>

#include <lowspot/job/rod_text.hpp>
#include <lowspot/report/map_works.hpp>

namespace lowspot::report {
namespace {

constexpr double between = 36; // points between labelled stations
constexpr double gap = 2;      // around a label: two that touch read as one number
const Rgb ink{0.12, 0.12, 0.14};

} // namespace

TextStyle small_lettering() {
  TextStyle style;
  style.size = 7;
  style.halo = true;
  style.color = ink;
  return style;
}

Rectangle corner_room(const MapView& view, const job::Corner& corner) {
  const Point at = view.at(corner.at);
  return {at.x - 6, at.y - 6, 12, 12};
}

namespace {

// What a station had better not be written over: outlines, and the pipes themselves.
std::vector<Obstacle> lines_of(const PlanSketch& sketch, const MapView& view) {
  std::vector<Obstacle> obstacles;
  const auto add = [&](const std::vector<Point>& points, bool closed, double width, double weight) {
    std::vector<Point> line;
    for (const Point& point : points) line.push_back(view.at(point));
    if (closed && !line.empty()) line.push_back(line.front());
    add_obstacles(line, width, weight, obstacles);
  };
  const site::Site& site = sketch.scene.site;
  for (const site::Area& area : site.areas) add(area.outline, true, 2, weight_of_outlines);
  for (const site::Building& building : site.buildings) add(building.outline, true, 2, weight_of_outlines);
  for (const site::Wall& wall : site.walls) add(wall.line, false, 2, weight_of_outlines);
  if (const site::Design* design = works_of(site, sketch.record))
    for (const site::Run& run : design->runs) add(run.path, false, 4, weight_of_marks);
  return obstacles;
}

// The place of a station's text: beside its mark, or a little further off where that is freer.
std::optional<Rectangle> station_room(const Point& at, const Size& size, const Rectangle& frame,
                                      const std::vector<Obstacle>& lines,
                                      const std::vector<Rectangle>& taken) {
  constexpr double of_each = 0.02; // a place further down the list is as much worse
  std::optional<Rectangle> best;
  double least = 0, rank = 0;
  for (const double away : {2.0, 6.0, 10.0, 14.0})
    for (const double y : {at.y - away - size.height, at.y + away, at.y - size.height / 2})
      for (const double x : {at.x + 3 + away / 2, at.x - 3 - away / 2 - size.width, at.x - size.width / 2}) {
        const Rectangle room{x, y, size.width, size.height};
        rank += of_each;
        if (!holds(frame, room) || std::any_of(taken.begin(), taken.end(), [&](const Rectangle& other) {
              return overlap(other, room) > 0;
            }))
          continue;
        double covered = 0;
        for (const Obstacle& line : lines) covered += line.weight * overlap(line.box, room);
        const double cost = rank + covered / (size.width * size.height);
        if (best && cost >= least) continue;
        best = room;
        least = cost;
      }
  return best;
}

} // namespace

// Stations along the runs; only those far enough apart are labelled, ends always.
std::vector<SketchMark> station_marks(cairo_t* context, const PlanSketch& sketch, const MapView& view) {
  std::vector<SketchMark> marks;
  if (sketch.stations == nullptr) return marks;
  const TextStyle style = small_lettering();
  const bool feet = sketch.scene.comparison.units == "ft";
  const std::vector<Obstacle> lines = lines_of(sketch, view);
  const Rectangle names = view.frame_of_names();
  const Rectangle frame{1, 1, names.x + names.width + sketch_rim - 1,
                        names.y + names.height + sketch_rim - 1};
  std::vector<Rectangle> taken;
  for (const job::Corner& corner : sketch.corners) taken.push_back(corner_room(view, corner));
  for (const job::CutRun& run : sketch.stations->runs)
    for (const job::CutStation& station : run.stations) {
      const Point at = view.at(station.at);
      const bool end = &station == &run.stations.front() || &station == &run.stations.back();
      // The end of the run is always wanted: a station just before it makes way.
      const bool before_end = !end && distance(view.at(run.stations.back().at), at) < between / 2;
      const bool crowded = std::any_of(marks.begin(), marks.end(), [&](const SketchMark& mark) {
        return !mark.text.empty() && distance(mark.at, at) < (end ? 10 : between);
      });
      SketchMark mark{at, "", {}};
      if (!crowded && !before_end) {
        mark.text = job::station_text(station.station, feet);
        const std::optional<Rectangle> room =
            station_room(at, text_size(context, mark.text, style), frame, lines, taken);
        if (room) {
          mark.room = *room;
          taken.push_back({room->x - gap, room->y - gap, room->width + 2 * gap, room->height + 2 * gap});
        } else
          mark.text.clear();
      }
      marks.push_back(mark);
    }
  return marks;
}

} // namespace lowspot::report
