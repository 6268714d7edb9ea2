#include "catch.hpp"

#include <algorithm>

#include <lowspot/report/station_marks.hpp>

#include "report/sample_sheet.hpp"

using namespace lowspot;
using namespace lowspot::report;

namespace {
std::vector<SketchMark> marks_of(const SheetScene& scene, const MapView& view) {
  std::vector<SketchMark> marks;
  const PlanSketch sketch{scene.map, *scene.built, scene.cut};
  png({300, 300}, 1, true, [&](cairo_t* context) { marks = station_marks(context, sketch, view); });
  return marks;
}
} // namespace

TEST_CASE("where a bed leaves no room for it, a station is written beside the bed and not over its outline") {
  sample::SheetMaker maker;
  SheetScene scene = maker.scene();
  const MapView view{maker.comparison.grid, sketch_rim, sketch_rim, 10};
  // A bed that reaches five points to either side of the pipe: less than the figures are high.
  const Polyline& leg = maker.site.designs[0].runs[0].path;
  const double west = std::min(leg.front().x, leg.back().x) - 0.4;
  const double east = std::max(leg.front().x, leg.back().x) + 0.4;
  maker.site.areas.resize(1);
  maker.site.areas[0].outline = {
      {west, leg[0].y - 0.5}, {east, leg[0].y - 0.5}, {east, leg[0].y + 0.5}, {west, leg[0].y + 0.5}};
  std::vector<Point> edge;
  for (const Point& corner : maker.site.areas[0].outline) edge.push_back(view.at(corner));
  edge.push_back(edge.front());
  std::vector<Obstacle> outline;
  add_obstacles(edge, 1, 1, outline);
  std::size_t written = 0;
  for (const SketchMark& mark : marks_of(scene, view)) {
    if (mark.text.empty()) continue;
    ++written;
    double covered = 0;
    for (const Obstacle& piece : outline) covered += overlap(piece.box, mark.room);
    CHECK(covered < 0.05 * mark.room.width * mark.room.height); // it may graze it, a line through it is more
  }
  CHECK(written >= 3);
}

TEST_CASE("no station is written over another or over a lettered corner") {
  sample::SheetMaker maker;
  const SheetScene scene = maker.scene();
  const double scale = GENERATE(4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0); // points a metre
  CAPTURE(scale);
  const std::vector<SketchMark> marks =
      marks_of(scene, {maker.comparison.grid, sketch_rim, sketch_rim, scale});
  CHECK(std::count_if(marks.begin(), marks.end(), [](const SketchMark& mark) { return mark.text.empty(); }) >
        0); // crowded ones
  for (std::size_t a = 0; a < marks.size(); ++a)
    for (std::size_t b = a + 1; b < marks.size(); ++b)
      if (!marks[a].text.empty() && !marks[b].text.empty()) {
        Rectangle room = marks[a].room; // two that touch, "0+490+45", read as one number
        room.x -= 1.9, room.y -= 1.9, room.width += 3.8, room.height += 3.8;
        CHECK(overlap(room, marks[b].room) == 0);
      }
}

TEST_CASE("a station just before the end of its run makes way for the end") {
  sample::SheetMaker maker;
  SheetScene scene = maker.scene();
  const Grid& grid = maker.comparison.grid;
  job::CutSheet cut;
  job::CutRun run;
  run.name = "leg";
  const Point foot{grid.x(grid.nx / 4), grid.y(grid.ny / 2)};
  for (const double along : {0.0, 4.0, 5.2}) { // 12 points from the last to the one before it
    job::CutStation station;
    station.station = along;
    station.at = {foot.x + along, foot.y};
    run.stations.push_back(station);
  }
  cut.runs = {run};
  scene.cut = &cut;
  const std::vector<SketchMark> marks = marks_of(scene, {grid, sketch_rim, sketch_rim, 10});
  REQUIRE(marks.size() == 3);
  CHECK_FALSE(marks[0].text.empty());
  CHECK(marks[1].text.empty());
  CHECK_FALSE(marks[2].text.empty());
}
