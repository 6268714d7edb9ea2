#include <lowspot/terrain/survey_check.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include <lowspot/base/text.hpp>
#include <lowspot/terrain/plane.hpp>

namespace lowspot::terrain {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

double distance_of(const Point3& a, const Point3& b) {
  return std::hypot(b.x - a.x, b.y - a.y);
}

std::vector<std::vector<int>> neighbours_of(const Tin& tin) {
  std::vector<std::vector<int>> result(tin.points.size());
  for (const Triangle& triangle : tin.triangles)
    for (int k = 0; k < 3; ++k)
      for (int other : {triangle.corner[(k + 1) % 3], triangle.corner[(k + 2) % 3]}) {
        std::vector<int>& list = result[triangle.corner[k]];
        if (std::find(list.begin(), list.end(), other) == list.end()) list.push_back(other);
      }
  return result;
}

// Residuals by point of the triangulation, whose order differs from the survey's.
std::vector<double> residuals(const Tin& tin) {
  std::vector<double> result(tin.points.size(), nan);
  std::vector<char> on_hull(tin.points.size(), 0);
  for (const auto& side : tin.hull) on_hull[side[0]] = on_hull[side[1]] = 1;
  const auto neighbours = neighbours_of(tin);
  for (std::size_t p = 0; p < tin.points.size(); ++p) {
    if (on_hull[p]) continue;
    std::vector<Point3> around;
    std::vector<double> weights;
    for (int other : neighbours[p]) {
      around.push_back(tin.points[other]);
      const double gap = distance_of(tin.points[p], tin.points[other]);
      weights.push_back(1 / (gap * gap));
    }
    const auto plane = fit_plane(around, weights);
    if (plane) result[p] = tin.points[p].z - plane->at(tin.points[p].x, tin.points[p].y);
  }
  return result;
}

// How much higher the shot would stand had 4.3 been meant as 4 feet 3 inches.
double rise_as_inches(double reading_metres) {
  const double feet = reading_metres / 0.3048;
  const double whole = std::floor(feet + 1e-9);
  const double tenths = std::round((feet - whole) * 100) / 10;
  return (feet - whole - tenths / 12) * 0.3048;
}

} // namespace

std::vector<double> leave_one_out(const Survey& survey, const Tin& tin) {
  std::vector<double> result(survey.points.size(), nan);
  const std::vector<double> by_place = residuals(tin);
  // The triangulation keeps the very coordinates of the survey's points, in an order of its own.
  std::map<std::pair<double, double>, double> residual_at;
  for (std::size_t p = 0; p < tin.points.size(); ++p)
    residual_at[{tin.points[p].x, tin.points[p].y}] = by_place[p];
  for (std::size_t k = 0; k < survey.points.size(); ++k) {
    const auto found = residual_at.find({survey.points[k].at.x, survey.points[k].at.y});
    if (survey.points[k].shot && found != residual_at.end()) result[k] = found->second;
  }
  return result;
}

std::vector<std::string> suspicious_shots(const Survey& survey, const Tin& tin, const LevelBook& book,
                                          const site::Site& site) {
  const std::vector<double> residual = leave_one_out(survey, tin);
  std::vector<double> sizes;
  for (double r : residual)
    if (!std::isnan(r)) sizes.push_back(std::abs(r));
  if (sizes.size() < 5) return {};
  std::nth_element(sizes.begin(), sizes.begin() + sizes.size() / 2, sizes.end());
  const double limit = std::max(0.03, 5 * sizes[sizes.size() / 2]);
  std::vector<std::pair<double, std::size_t>> suspects;
  for (std::size_t k = 0; k < residual.size(); ++k)
    if (!std::isnan(residual[k]) && std::abs(residual[k]) > limit)
      suspects.push_back({-std::abs(residual[k]), k});
  std::sort(suspects.begin(), suspects.end());
  if (suspects.size() > 5)
    suspects.resize(5); // a bad shot spoils its neighbours' residuals too: the worst lead
  std::vector<std::string> sentences;
  for (const auto& [size, k] : suspects) {
    const SurveyPoint& point = survey.points[k];
    std::string text = survey.file + ":" + std::to_string(point.line) + ": \"" + point.name + "\" stands " +
                       rounded(std::abs(residual[k]) / site.unit, 2) + " " + site.units +
                       (residual[k] > 0 ? " above" : " below") +
                       " the ground between its neighbours; check the shot.";
    for (const Sighting& sighting : book.sightings) {
      if (sighting.line != point.line || !sighting.decimal) continue;
      const double rise = rise_as_inches(sighting.reading);
      if (std::abs(rise) > 0.01 && std::abs(residual[k] + rise) < 0.3 * std::abs(residual[k]))
        text += " It would fit had inches been read and written as tenths.";
    }
    sentences.push_back(text);
  }
  return sentences;
}

NextShot next_shot(const Survey& survey, const Tin& tin, const site::Site& site) {
  const std::vector<double> by_place = residuals(tin);
  NextShot best{centroid(site.outline), 0};
  double best_score = -1;
  for (const Triangle& triangle : tin.triangles) {
    const Point3 &a = tin.points[triangle.corner[0]], &b = tin.points[triangle.corner[1]],
                 &c = tin.points[triangle.corner[2]];
    const Point middle{(a.x + b.x + c.x) / 3, (a.y + b.y + c.y) / 3};
    if (!contains(site.outline, middle)) continue;
    double roughness = 0.01; // what a rod reading is good for: flat ground still wants even cover
    for (int corner : triangle.corner)
      if (!std::isnan(by_place[corner])) roughness += std::abs(by_place[corner]) / 3;
    const double twice_area = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
    if (twice_area * roughness <= best_score) continue;
    best_score = twice_area * roughness;
    best.at = middle;
  }
  best.reach = std::numeric_limits<double>::infinity();
  for (const SurveyPoint& p : survey.points)
    best.reach = std::min(best.reach, std::hypot(p.at.x - best.at.x, p.at.y - best.at.y));
  return best;
}

} // namespace lowspot::terrain
