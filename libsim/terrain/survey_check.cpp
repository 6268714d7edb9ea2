#include <lowspot/terrain/survey_check.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include <lowspot/base/text.hpp>

namespace lowspot::terrain {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr std::size_t most_sentences = 5, most_by_hand = 2000;

// The triangulation without point p differs from the one with it only inside the ring of its neighbours,
// which are joined afresh.
double without(const Tin& tin, int p, const std::vector<int>& triangles) {
  std::vector<Point3> ring;
  std::vector<std::array<int, 2>> edges;
  std::map<int, int> place;
  auto placed = [&](int corner) {
    const auto [at, added] = place.insert({corner, static_cast<int>(ring.size())});
    if (added) ring.push_back(tin.points[corner]);
    return at->second;
  };
  for (int t : triangles) {
    const auto& corner = tin.triangles[t].corner;
    const int k = corner[0] == p ? 0 : corner[1] == p ? 1 : 2;
    const int a = placed(corner[(k + 1) % 3]), b = placed(corner[(k + 2) % 3]);
    edges.push_back({a, b});
  }
  const Tin rest = triangulate(ring, edges);
  if (rest.triangles.empty()) return nan;
  int hint = 0;
  const TinValue value = interpolate(rest, {tin.points[p].x, tin.points[p].y}, hint);
  return value.gap > 0 ? nan : value.z;
}

std::string length_text(double metres, const site::Site& site, int digits = 2) {
  constexpr double seen = 1e-5; // m: what is less is rounding
  return rounded(std::abs(metres) < seen ? 0 : std::abs(metres) / site.unit, digits) + " " + site.units;
}

std::string elevation_text(double metres, const site::Site& site) {
  const double scale = site.units == "m" ? 1000 : 100;
  return number_text(std::round(metres / site.unit * scale) / scale) + " " + site.units;
}

std::string slip_text(const Suspicion& s, const site::Site& site) {
  if (s.kind == SuspicionKind::swapped_place)
    return " It would fit where its x and y changed places, at " + rounded(s.mended_at.x / site.unit, 5) +
           ", " + rounded(s.mended_at.y / site.unit, 5) + ", to " + length_text(s.off_mended, site) + ".";
  if (s.kind == SuspicionKind::slip)
    return " It would fit to " + length_text(s.off_mended, site) + " had \"" + s.meant +
           "\" been written for \"" + s.written + "\" (" + s.cause + "), at " +
           elevation_text(s.mended_elevation, site) + ".";
  return "";
}

// The book as differences from the raster. A place that is wrong is not looked for: the difference would have
// to be taken where the shot belongs.
BookCheck check_over(const LevelBook& book, const site::Site& site, const HeightMap& raster) {
  LevelBook relative = book;
  // Beyond the raster a difference would be the fall of the ground from its last cells, and bend what is
  // expected of the others.
  const auto beyond = [&](const Point3& at) { return height_at(raster, {at.x, at.y}).outside; };
  std::erase_if(relative.shots, [&](const Shot& shot) { return beyond(shot.at); });
  std::map<int, double> below; // height of the raster, by line
  std::vector<Point3> left;
  for (Shot& shot : relative.shots) {
    below[shot.line] = height_at(raster, {shot.at.x, shot.at.y}).z;
    shot.at.z -= below[shot.line];
    left.push_back(shot.at);
  }
  if (left.size() < 3 || triangulate(left).triangles.empty()) return {};
  for (Sighting& sighting : relative.sightings) sighting.elevation -= below[sighting.line];
  site::Site relative_site = site;
  for (auto& line : relative_site.ground.breaklines) {
    std::erase_if(line, beyond);
    for (Point3& at : line) at.z -= height_at(raster, {at.x, at.y}).z;
  }
  std::erase_if(relative_site.ground.breaklines, [](const auto& line) { return line.size() < 2; });
  BookCheck check = check_book(relative, relative_site);
  // Nor is what stands where the raster has no data.
  std::erase_if(check.shots, [&](const Suspicion& s) {
    const SampledHeight height = height_at(raster, s.at);
    return s.kind == SuspicionKind::swapped_place || height.from_hole || height.outside;
  });
  for (Suspicion& suspicion : check.shots) {
    suspicion.elevation += below[suspicion.line];
    suspicion.mended_elevation += below[suspicion.line];
  }
  return check;
}

} // namespace

std::vector<double> leave_one_out(const Survey& survey, const Tin& tin) {
  std::vector<std::vector<int>> around(tin.points.size());
  for (std::size_t t = 0; t < tin.triangles.size(); ++t)
    for (int corner : tin.triangles[t].corner) around[corner].push_back(static_cast<int>(t));
  std::vector<char> on_hull(tin.points.size(), 0);
  for (const auto& side : tin.hull) on_hull[side[0]] = on_hull[side[1]] = 1;
  // The triangulation keeps the very coordinates of the survey's points, in an order of its own.
  std::map<std::pair<double, double>, int> point_at;
  for (std::size_t p = 0; p < tin.points.size(); ++p)
    point_at[{tin.points[p].x, tin.points[p].y}] = static_cast<int>(p);
  std::vector<double> result(survey.points.size(), nan);
  for (std::size_t k = 0; k < survey.points.size(); ++k) {
    const SurveyPoint& point = survey.points[k];
    const auto found = point_at.find({point.at.x, point.at.y});
    if (!point.shot || found == point_at.end() || on_hull[found->second]) continue;
    result[k] = point.at.z - without(tin, found->second, around[found->second]);
  }
  return result;
}

BookCheck check_book(const LevelBook& book, const site::Site& site, const HeightMap* raster) {
  if (raster) return check_over(book, site, *raster);
  BookCheck check;
  std::vector<Polygon> buildings;
  for (const site::Building& building : site.buildings) buildings.push_back(building.outline);
  check.steps = find_setup_steps(book, buildings);
  if (check.steps.empty()) {
    check.shots = find_blunders(gather_survey(book, site), book, site);
    return check;
  }
  LevelBook mended = book;
  std::map<int, double> taken; // by line
  for (const SetupStep& step : check.steps) {
    int end = std::numeric_limits<int>::max(); // the known point that ends the loop
    for (const Closure& closure : book.closures)
      if (closure.line > step.line) end = std::min(end, closure.line);
    for (Shot& shot : mended.shots)
      if (shot.line >= step.line && shot.line < end && shot.written.sense < 0) {
        shot.at.z -= step.step;
        taken[shot.line] += step.step;
      }
  }
  check.shots = find_blunders(gather_survey(mended, site), mended, site);
  for (Suspicion& suspicion : check.shots) {
    suspicion.elevation += taken[suspicion.line];
    suspicion.mended_elevation += taken[suspicion.line];
  }
  return check;
}

std::string step_text(const SetupStep& step, const LevelBook& book, const site::Site& site) {
  std::string text = book.file + ":" + std::to_string(step.line) + ": from about \"" + step.name + "\" on, ";
  text += step.at_start ? "the whole of set-up " + std::to_string(step.setup)
                        : "what is left of set-up " + std::to_string(step.setup);
  text += " looks " + length_text(step.step, site) + (step.step > 0 ? " too high" : " too low");
  text += step.at_start ? ": a bumped tripod, or the turning point before it misread." : ": a bumped tripod.";
  text += " Shots on both sides would fit to " + length_text(step.fit_after, site) + " instead of " +
          length_text(step.fit_before, site) + ".";
  if (step.misclosure != 0) text += " The loop misses its known point by the same amount.";
  return text;
}

std::string suspicion_text(const Suspicion& s, const LevelBook& book, const site::Site& site) {
  std::string text = book.file + ":" + std::to_string(s.line) + ": \"" + s.name + "\" ";
  if (s.kind == SuspicionKind::two_elevations) {
    text += "was shot twice, at " + elevation_text(s.elevation, site) + " and, in line " +
            std::to_string(s.other_line) + ", at " + elevation_text(s.mended_elevation, site);
    return text + (std::isnan(s.off_mended) || s.off_mended == 0
                       ? "; shoot it again."
                       : "; its neighbours say the second, to " + length_text(s.off_mended, site) + ".");
  }
  if (s.kind == SuspicionKind::swapped_place && s.off == 0)
    text += "lies off the yard.";
  else
    text += "stands " + length_text(s.off, site) + (s.off > 0 ? " above" : " below") +
            " the ground between its neighbours, which are usually good to " + length_text(s.usual, site, 1) +
            ".";
  const std::string slip = slip_text(s, site);
  return text +
         (slip.empty() ? " Shoot it again, or add shots round it if the ground has an edge there." : slip);
}

std::vector<std::string> worst_sentences(const BookCheck& check, const LevelBook& book,
                                         const site::Site& site) {
  std::vector<std::string> sentences;
  for (const SetupStep& step : check.steps) sentences.push_back(step_text(step, book, site));
  for (const Suspicion& suspicion : check.shots)
    if (sentences.size() < most_sentences) sentences.push_back(suspicion_text(suspicion, book, site));
  return sentences;
}

std::vector<std::string> suspicious_shots(const LevelBook& book, const site::Site& site,
                                          const HeightMap* raster) {
  if (book.shots.size() > most_by_hand) return {};
  return worst_sentences(check_book(book, site, raster), book, site);
}

} // namespace lowspot::terrain
