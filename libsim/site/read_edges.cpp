// [edges]: what happens at the limit of the yard.
#include <algorithm>

#include <lowspot/base/text.hpp>
#include <lowspot/site/files.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/places.hpp>
#include <lowspot/site/readers.hpp>
#include <lowspot/site/usual_range.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
EdgeKind kind_of(const TableReader& table, const std::string& key) {
  return table.word(key, {"open", "wall"}) == "open" ? EdgeKind::open : EdgeKind::wall;
}

// The ends of a part need not be corners, but they lie on the outline.
Point end_on_outline(const TableReader& table, const std::string& key) {
  const Site& site = table.context().site;
  const Point end = table.point(key);
  Polyline ring = site.outline;
  ring.push_back(ring.front());
  const double away = distance_to(ring, end);
  if (away > 0.3048)
    table.fail(key,
               written(end, site) + ", " + rounded(away / site.unit) + " " + site.units + " off the outline",
               "a place on the outline",
               "Take it from the corners of [site] outline, or a point on one of its sides.");
  return end;
}

// Where along the outline a place on it lies, from the first corner on [m].
double along_outline(const Polygon& outline, const Point& place) {
  Polyline ring = outline;
  ring.push_back(ring.front());
  double along = 0;
  distance_to(ring, place, &along);
  const double around = length(ring);
  return along < around - on_the_limit ? along : 0;
}

// One way round from one place on the outline to another: how long, and past which corners.
struct Way {
  double length = 0; // m
  std::vector<Point> corners;
};

Way way_round(const Polygon& outline, double from, double to) {
  Polyline ring = outline;
  ring.push_back(ring.front());
  const double around = length(ring);
  Way way;
  way.length = to >= from ? to - from : to - from + around;
  double passed = 0;
  std::vector<std::pair<double, Point>> met; // by how far from the start
  for (std::size_t k = 0; k < outline.size(); ++k) {
    const double ahead = passed >= from ? passed - from : passed - from + around;
    if (ahead > on_the_limit && ahead < way.length - on_the_limit) met.emplace_back(ahead, outline[k]);
    passed += distance(ring[k], ring[k + 1]);
  }
  std::sort(met.begin(), met.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  for (const auto& [ahead, corner] : met) way.corners.push_back(corner);
  return way;
}

std::string described(const Way& way, const Site& site) {
  constexpr std::size_t most_named = 3;
  std::string text = rounded(way.length / site.unit, 3) + " " + site.units;
  if (way.corners.empty()) return text + " along one side";
  text += " past ";
  for (std::size_t k = 0; k < std::min(most_named, way.corners.size()); ++k)
    text += (k > 0 ? ", " : "") + written(way.corners[k], site);
  if (way.corners.size() > most_named)
    text += " and " + std::to_string(way.corners.size() - most_named) + " more";
  return text;
}

// A stretch of the outline goes the shorter way between its ends; with `by`, a place on it, that way: as two
// stretches.
void read_part(const TableReader& table, Edges& edges) {
  const Site& site = table.context().site;
  const Polygon& outline = site.outline;
  const Point from = end_on_outline(table, "from"), to = end_on_outline(table, "to");
  const EdgeKind kind = kind_of(table, "kind");
  if (distance(from, to) <= on_the_limit)
    table.fail(
        "to", written(to, site) + ", the very place of `from`", "the other end of the part",
        "Give the two ends of the stretch; for a whole side write its name, such as north = \"open\".");
  const double first = along_outline(outline, from), last = along_outline(outline, to);
  const Way ahead = way_round(outline, first, last), back = way_round(outline, last, first);
  const double half = (ahead.length + back.length) / 2;
  if (table.has("by")) {
    const Point by = end_on_outline(table, "by");
    const double middle = along_outline(outline, by);
    const bool on_the_way = way_round(outline, first, middle).length < ahead.length;
    const double one =
        on_the_way ? way_round(outline, first, middle).length : way_round(outline, middle, first).length;
    const double other = (on_the_way ? ahead : back).length - one;
    if (std::max(one, other) > half)
      table.fail("by", written(by, site), "a place nearer to the middle of the part",
                 "Take a corner about half way between `from` and `to`.");
    edges.parts.push_back({from, by, kind});
    edges.parts.push_back({by, to, kind});
  } else {
    const Way &shorter = ahead.length <= half ? ahead : back, &longer = ahead.length <= half ? back : ahead;
    if (!shorter.corners.empty())
      table.assume("by", "the shorter way between its ends, " + described(shorter, site) + "; the other is " +
                             described(longer, site));
    constexpr double nearly_as_long = 0.8;
    if (shorter.length > nearly_as_long * longer.length)
      table.warn("by", "is not given, and the two ways round are nearly as long: taken is the one of " +
                           described(shorter, site) + ", not that of " + described(longer, site) +
                           "; name a place on the part, by = [x, y]");
    edges.parts.push_back({from, to, kind});
  }
  table.done();
}

TimeSeries read_flow(const TableReader& table) {
  const std::string flow = table.text("flow", "a flow with its unit, or a file with time and flow");
  if (!lower(flow).ends_with(".csv") && !lower(flow).ends_with(".txt"))
    return {{0}, {table.quantity("flow", Dimension::flow)}};
  const TimeSeries series =
      read_time_series(table.context().site.folder / file_named(table, "flow"), "flow", Dimension::flow);
  if (series.units_assumed)
    table.assume("flow", "numbers without a unit in " + flow + ": " + (series.time_assumed ? "seconds" : "") +
                             (series.time_assumed && series.value_assumed ? " and " : "") +
                             (series.value_assumed ? "m3/s" : ""));
  warn_of_short_series(table, "flow", series);

  return series;
}

// A hard rain of 4 in/hr on an acre runs off with some 4 cfs.
void warn_of_flow(const TableReader& table, const std::vector<double>& flow, double most_usual,
                  const std::string& consequence) {
  double most = 0;
  for (const double one : flow) most = std::max(most, one);
  if (most > most_usual)
    table.warn("flow", written(most, Dimension::flow, table.context().site) + consequence);
}

EdgeInflow read_inflow(const TableReader& table, std::size_t number) {
  EdgeInflow inflow;
  inflow.name = table.maybe_text("name").value_or("inflow " + std::to_string(number));
  inflow.along = table.line_of_points("along");
  for (const Point& place : inflow.along) require_inside(table, "along", place);
  const TimeSeries series = read_flow(table);
  inflow.time = series.time;
  inflow.flow = series.value;
  warn_of_flow(table, inflow.flow, 0.1133, // 4 cfs
               " is more than an acre sheds in a hard rain, and will flood the yard; check the unit");
  table.done();
  return inflow;
}

EdgeSeep read_seep(const TableReader& table, std::size_t number) {
  EdgeSeep seep;
  seep.name = table.maybe_text("name").value_or("seep " + std::to_string(number));
  seep.along = table.line_of_points("along");
  for (const Point& place : seep.along) require_inside(table, "along", place);
  if (table.has("flow") && table.has("saturated"))
    table.fail("saturated", "a flow and a saturated thickness", "one of the two",
               "Keep `flow` where it was measured, `saturated` where a hole upslope showed the water.");
  if (const auto thickness = table.maybe_quantity("saturated", Dimension::length, Range::positive)) {
    seep.saturated = *thickness;
    warn_outside(table, "saturated", *thickness, usual::seep_thickness);
  } else {
    const TimeSeries series = read_flow(table);
    seep.time = series.time;
    seep.flow = series.value;
    warn_of_flow(table, seep.flow, 1e-3, // a good spring
                 " is the flow of a spring, far more than seeps through topsoil; check the unit");
  }
  table.done();
  return seep;
}
} // namespace

void read_edges(const TableReader& root, Context& context) {
  Edges& edges = context.site.edges;
  const TableReader table = root.table_or_empty("edges");
  if (table.has("default"))
    edges.otherwise = kind_of(table, "default");
  else
    table.assume("default", "open");
  if (table.has("north")) edges.north = kind_of(table, "north");
  if (table.has("south")) edges.south = kind_of(table, "south");
  if (table.has("east")) edges.east = kind_of(table, "east");
  if (table.has("west")) edges.west = kind_of(table, "west");
  for (const TableReader& part : table.tables("part")) read_part(part, edges);
  for (const TableReader& inflow : table.tables("inflow")) {
    EdgeInflow read = read_inflow(inflow, edges.inflows.size() + 1);
    refuse_taken(inflow, read.name, edges.inflows, "inflow");
    edges.inflows.push_back(std::move(read));
  }
  for (const TableReader& seep : table.tables("seep")) {
    EdgeSeep read = read_seep(seep, edges.seeps.size() + 1);
    refuse_taken(seep, read.name, edges.seeps, "seep");
    edges.seeps.push_back(std::move(read));
  }
  if (table.has("underground")) edges.underground = kind_of(table, "underground");
  table.done();
}

} // namespace lowspot::site
