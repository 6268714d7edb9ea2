#include <lowspot/terrain/survey_ground.hpp>

#include <algorithm>
#include <cmath>

namespace lowspot::terrain {
namespace {

double hull_area(const Tin& tin) {
  double twice = 0;
  const Point3 origin = tin.points[0];
  for (const auto& [first, second] : tin.hull) {
    const Point3 &a = tin.points[first], &b = tin.points[second];
    twice += (a.x - origin.x) * (b.y - origin.y) - (b.x - origin.x) * (a.y - origin.y);
  }
  return twice / 2;
}

} // namespace

Field survey_heights(const Survey& survey, const Grid& grid, Mask& outside) {
  const Tin tin = triangulate(places(survey));
  Field gap;
  Field z = interpolate(tin, grid, &gap);
  for (std::size_t c = 0; c < gap.size(); ++c)
    if (gap[c] > 0) outside[c] = 1;
  return z;
}

double refine_by_survey(const Survey& survey, const HeightMap& map, const Grid& grid, Field& elevation) {
  std::vector<Point3> differences = places(survey);
  for (Point3& p : differences) p.z -= height_at(map, {p.x, p.y}).z;
  const Tin tin = triangulate(differences);
  const double reach = 2 * std::sqrt(hull_area(tin) / static_cast<double>(differences.size()));
  Field gap;
  const Field change = interpolate(tin, grid, &gap);
  for (std::size_t c = 0; c < elevation.size(); ++c)
    elevation[c] += change[c] * std::max(0.0, 1 - gap[c] / reach);
  return reach;
}

} // namespace lowspot::terrain
