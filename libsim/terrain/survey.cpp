#include <lowspot/terrain/survey.hpp>

#include <algorithm>
#include <cmath>
#include <map>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/terrain/breaklines.hpp>

namespace lowspot::terrain {
namespace {

constexpr double same_place = 0.01;     // m
constexpr double same_elevation = 0.05; // m

void add_breakline(const std::vector<Point3>& line, int number, Survey& survey) {
  const std::string name = "breakline " + std::to_string(number);
  for (std::size_t k = 0; k < line.size(); ++k) {
    const int here = static_cast<int>(survey.points.size());
    if (k > 0) survey.edges.push_back({here - 1, here});
    survey.points.push_back({name, line[k], 0, false});
  }
}

std::string described(const SurveyPoint& point, const std::string& file) {
  std::string text = "\"" + point.name + "\"";
  if (point.line > 0) text += " (" + file + ":" + std::to_string(point.line) + ")";
  return text;
}

// Keeps the first of points on one place with the mean of their elevations, looking into squares of that
// size.
void merge_same_place(Survey& survey, const site::Site& site) {
  std::map<std::pair<long, long>, std::vector<int>> squares;
  std::vector<SurveyPoint> kept;
  std::vector<int> merged, became;
  for (const SurveyPoint& point : survey.points) {
    const long sx = std::lround(std::floor(point.at.x / same_place)),
               sy = std::lround(std::floor(point.at.y / same_place));
    int found = -1;
    for (long a = sx - 1; a <= sx + 1 && found < 0; ++a)
      for (long b = sy - 1; b <= sy + 1 && found < 0; ++b)
        if (const auto square = squares.find({a, b}); square != squares.end())
          for (int k : square->second)
            if (std::hypot(kept[k].at.x - point.at.x, kept[k].at.y - point.at.y) < same_place) found = k;
    became.push_back(found < 0 ? static_cast<int>(kept.size()) : found);
    if (found < 0) {
      squares[{sx, sy}].push_back(static_cast<int>(kept.size()));
      kept.push_back(point);
      merged.push_back(1);
      continue;
    }
    SurveyPoint& first = kept[found];
    const double difference = point.at.z - first.at.z;
    const bool on_line = first.shot && !point.shot; // a shot rules over the line through it
    if (std::abs(difference) > same_elevation)
      survey.warnings.push_back(described(first, survey.file) + " and " + described(point, survey.file) +
                                " stand on one place and differ by " +
                                rounded(std::abs(difference) / site.unit, 3) + " " + site.units +
                                (on_line ? "; the shot is kept." : "; their mean is used."));
    if (on_line) continue;
    first.at.z += difference / ++merged[found];
    first.shot = first.shot || point.shot;
  }
  survey.points.swap(kept);
  for (auto& edge : survey.edges) edge = {became[edge[0]], became[edge[1]]};
}

void check_spread(const Survey& survey) {
  const std::vector<SurveyPoint>& points = survey.points;
  if (points.size() < 3)
    throw InputError({survey.file, 0, ""},
                     points.size() == 1 ? std::string("shots of one place only")
                                        : std::to_string(points.size()) + " different places",
                     "at least three",
                     "shoot more points; places in degrees must be turned into the site's units first");
  auto gap = [](const Point3& a, const Point3& b) { return std::hypot(b.x - a.x, b.y - a.y); };
  const Point3& a = points[0].at;
  const Point3* b = &a;
  for (const SurveyPoint& p : points)
    if (gap(a, p.at) > gap(a, *b)) b = &p.at;
  double widest = 0;
  for (const SurveyPoint& p : points)
    widest = std::max(widest,
                      std::abs((b->x - a.x) * (p.at.y - a.y) - (b->y - a.y) * (p.at.x - a.x)) / gap(a, *b));
  if (widest < same_place)
    throw InputError({survey.file, 0, ""}, "shots that all lie on one line", "shots spread over the yard",
                     "add shots to both sides of the line");
}

void check_near(const Survey& survey, const site::Site& site) {
  const Box box = bounds(site.outline);
  const double reach = std::max({box.high.x - box.low.x, box.high.y - box.low.y, 5.0});
  for (const SurveyPoint& p : survey.points)
    if (p.at.x > box.low.x - reach && p.at.x < box.high.x + reach && p.at.y > box.low.y - reach &&
        p.at.y < box.high.y + reach)
      return;
  const Point3& p = survey.points[0].at;
  throw InputError({survey.file, survey.points[0].line, ""},
                   "shots none of which lies near the yard, the first at " + rounded(p.x / site.unit, 9) +
                       ", " + rounded(p.y / site.unit, 9),
                   "shots in the coordinates of the outline",
                   "use the same origin and units (\"" + site.units + "\") as the outline in the site file");
}

// How far outside the box around the yard a point lies [m].
double off_the_yard(const Point3& at, const Box& box) {
  const double x = std::max({box.low.x - at.x, at.x - box.high.x, 0.0});
  const double y = std::max({box.low.y - at.y, at.y - box.high.y, 0.0});
  return std::hypot(x, y);
}

// One place far from all others is a slip of its coordinates. The ground between it and the yard would be
// drawn as one slope; from very far the finest of places could not be told apart any more.
void look_for_strays(const site::Site& site, Survey& survey) {
  constexpr double odd = 3, refused = 100; // times the yard's extent
  const Box box = bounds(site.outline);
  const double extent = std::max({box.high.x - box.low.x, box.high.y - box.low.y, 5.0});
  const auto near = [&](const SurveyPoint& p) { return off_the_yard(p.at, box) < extent; };
  if (std::none_of(survey.points.begin(), survey.points.end(), near)) return; // check_near() says it of all
  for (const SurveyPoint& p : survey.points) {
    const double off = off_the_yard(p.at, box);
    if (off < odd * extent) continue;
    const auto in_units = [&](double metres, int digits) { return rounded(metres / site.unit, digits); };
    const std::string place = in_units(p.at.x, 9) + ", " + in_units(p.at.y, 9) + ", " + in_units(off, 3) +
                              " " + site.units + " off the yard";
    if (off > refused * extent)
      throw InputError(
          {p.shot ? survey.file : site.file.string(), p.line, p.shot ? "x, y" : "ground.breaklines"},
          "\"" + p.name + "\" at " + place, "a place in the yard or beside it",
          "check its x and y, or leave them out for a benchmark off the yard");
    survey.warnings.push_back(described(p, survey.file) + " lies at " + place +
                              ", so the ground towards it is drawn as one slope; check its x and y.");
  }
}

Polyline closed(const Polygon& outline) {
  Polyline line = outline;
  if (!line.empty()) line.push_back(line.front());
  return line;
}

// Whether a place lies inside a building, beyond the doubt of a tape at its corners.
bool indoors(const Polygon& building, const Point& at) {
  constexpr double doubt = 0.5; // m
  return contains(building, at) && distance_to(closed(building), at) > doubt;
}

// Shots that are hardly meant: well off the yard, or on ground inside a building. `exchanged`: with x for y.
std::size_t misplaced(const Survey& survey, const site::Site& site, bool exchanged) {
  const Box box = bounds(site.outline);
  const double beside = std::max(1.0, 0.05 * std::max(box.high.x - box.low.x, box.high.y - box.low.y)); // m
  std::size_t count = 0;
  for (const SurveyPoint& p : survey.points) {
    if (!p.shot) continue;
    const Point at = exchanged ? Point{p.at.y, p.at.x} : Point{p.at.x, p.at.y};
    const bool off = !contains(site.outline, at) && distance_to(closed(site.outline), at) > beside;
    count += off || std::any_of(survey.buildings.begin(), survey.buildings.end(),
                                [&](const Polygon& house) { return indoors(house, at); });
  }
  return count;
}

// A floor is no ground, but would shape the ground beside the walls.
void look_for_floors(const site::Site& site, Survey& survey) {
  for (const site::Building& building : site.buildings) {
    const SurveyPoint* first = nullptr;
    std::size_t count = 0;
    for (const SurveyPoint& p : survey.points)
      if (p.shot && indoors(building.outline, {p.at.x, p.at.y})) {
        if (first == nullptr) first = &p;
        ++count;
      }
    if (first == nullptr) continue;
    const std::string others = count == 1   ? " lies"
                               : count == 2 ? " and another shot lie"
                                            : " and " + std::to_string(count - 1) + " more shots lie";
    survey.warnings.push_back(described(*first, survey.file) + others + " inside '" + building.name +
                              "': the ground beside its walls is drawn towards a floor; leave floors out of "
                              "the table, or check x and y.");
  }
}

// A table with its columns in the order y, x gives ground, only another: nothing later would show it.
void look_for_exchange(const site::Site& site, Survey& survey) {
  const auto shots = static_cast<std::size_t>(
      std::count_if(survey.points.begin(), survey.points.end(), [](const SurveyPoint& p) { return p.shot; }));
  const std::size_t odd = misplaced(survey, site, false);
  if (odd == 0) return;
  const std::size_t otherwise = misplaced(survey, site, true);
  // One is a slip of the pen, or a ditch across the road.
  const bool better = odd > 1 && (otherwise == 0 || 4 * otherwise < odd);
  if (!better && 2 * odd <= shots) return look_for_floors(site, survey);
  survey.warnings.push_back(
      survey.file + ": " + std::to_string(odd) + " of " + std::to_string(shots) +
      " shots lie off the yard or inside buildings" +
      (better ? ", with x and y exchanged " + (otherwise == 0 ? "none" : std::to_string(otherwise)) +
                    ": check which column is x (east) and which y (north), and leave floors out."
              : "; check that they have the origin, the direction of north and the units (" + site.units +
                    ") of the outline."));
}

// Elevations that differ by half the yard's extent and more: a nought for a shot that was missed, or another
// unit.
void warn_of_relief(const site::Site& site, Survey& survey) {
  if (survey.points.empty()) return;
  const SurveyPoint *low = &survey.points[0], *high = low, *west = low, *east = low, *south = low,
                    *north = low;
  for (const SurveyPoint& p : survey.points) {
    if (p.at.z < low->at.z) low = &p;
    if (p.at.z > high->at.z) high = &p;
    if (p.at.x < west->at.x) west = &p;
    if (p.at.x > east->at.x) east = &p;
    if (p.at.y < south->at.y) south = &p;
    if (p.at.y > north->at.y) north = &p;
  }
  const double rise = high->at.z - low->at.z;
  const double extent = std::hypot(east->at.x - west->at.x, north->at.y - south->at.y);
  if (rise < 0.5 * extent || rise < 2) return;
  const auto in_units = [&](double length) { return rounded(length / site.unit, 3) + " " + site.units; };
  survey.warnings.push_back(
      "The ground falls by " + in_units(rise) + " over a yard " + in_units(extent) + " across, from " +
      described(*high, survey.file) + " to " + described(*low, survey.file) +
      "; check for a missed shot entered as 0, and that elevations and places are in " + site.units + ".");
}

} // namespace

Survey gather_survey(const LevelBook& book, const site::Site& site) {
  Survey survey;
  survey.file = book.shots.empty() ? site.file.string() : book.file;
  for (const site::Building& building : site.buildings) survey.buildings.push_back(building.outline);
  for (const Shot& shot : book.shots) survey.points.push_back({shot.name, shot.at, shot.line, true});
  for (std::size_t k = 0; k < site.ground.breaklines.size(); ++k)
    add_breakline(site.ground.breaklines[k], static_cast<int>(k) + 1, survey);
  look_for_strays(site, survey);
  if (!survey.points.empty()) merge_same_place(survey, site);
  check_spread(survey);
  check_near(survey, site);
  look_for_exchange(site, survey);
  warn_of_relief(site, survey);
  join_edges(survey, site);
  return survey;
}

Survey points_that(const Survey& survey, const std::function<bool(const SurveyPoint&)>& wanted,
                   std::vector<std::size_t>* from) {
  Survey result = survey;
  result.points.clear();
  result.edges.clear();
  std::vector<int> place(survey.points.size(), -1);
  for (std::size_t k = 0; k < survey.points.size(); ++k) {
    if (!wanted(survey.points[k])) continue;
    place[k] = static_cast<int>(result.points.size());
    result.points.push_back(survey.points[k]);
    if (from) from->push_back(k);
  }
  for (const auto& [a, b] : survey.edges)
    if (place[a] >= 0 && place[b] >= 0) result.edges.push_back({place[a], place[b]});
  return result;
}

std::vector<Point3> places(const Survey& survey) {
  std::vector<Point3> result;
  for (const SurveyPoint& point : survey.points) result.push_back(point.at);
  return result;
}

Tin triangulate(const Survey& survey) {
  return triangulate(places(survey), survey.edges);
}

} // namespace lowspot::terrain
