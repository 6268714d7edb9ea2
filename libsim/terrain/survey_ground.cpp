#include <lowspot/terrain/survey_ground.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/terrain/breaklines.hpp>

namespace lowspot::terrain {
namespace {

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  if (values.size() % 2) return *middle;
  return (*middle + *std::max_element(values.begin(), middle)) / 2;
}

double hull_area(const Tin& tin) {
  double twice = 0;
  const Point3 origin = tin.points[0];
  for (const auto& [first, second] : tin.hull) {
    const Point3 &a = tin.points[first], &b = tin.points[second];
    twice += (a.x - origin.x) * (b.y - origin.y) - (b.x - origin.x) * (a.y - origin.y);
  }
  return twice / 2;
}

bool beyond(const Grid& grid, const Point3& at) {
  return at.x < grid.x0 || at.y < grid.y0 || at.x > grid.x0 + grid.nx * grid.cell ||
         at.y > grid.y0 + grid.ny * grid.cell;
}

} // namespace

Field survey_heights(const Survey& survey, const Grid& grid, Mask& outside) {
  const Tin tin = triangulate(survey);
  Field gap;
  Field z = interpolate(tin, grid, &gap);
  for (std::size_t c = 0; c < gap.size(); ++c)
    if (gap[c] > 0) outside[c] = 1;
  return z;
}

DatumShift datum_shift(const Survey& survey, const HeightMap& map) {
  std::vector<double> of_shots, of_lines;
  for (const SurveyPoint& point : survey.points) {
    const SampledHeight height = height_at(map, {point.at.x, point.at.y});
    if (height.from_hole || height.outside) continue;
    (point.shot ? of_shots : of_lines).push_back(point.at.z - height.z);
  }
  std::vector<double>& differences = of_shots.empty() ? of_lines : of_shots;
  DatumShift datum;
  datum.shots = static_cast<int>(differences.size());
  if (datum.shots < 3) return datum;
  const double middle = median(differences);
  for (double& difference : differences) difference = std::abs(difference - middle);
  datum.scatter = 1.4826 * median(differences); // of a normal distribution
  constexpr double least = 0.03;                // m: what a raster of ground heights is good for
  if (std::abs(middle) > std::max({least, datum.scatter, 3 * datum.scatter / std::sqrt(datum.shots)}))
    datum.shift = middle;
  return datum;
}

double refine_by_survey(const Survey& survey, const HeightMap& map, const DatumShift& datum, const Grid& grid,
                        Field& elevation) {
  // Between the corners of a breakline the raster goes its own way: the difference is taken all along.
  const Survey dense = densified(survey, std::min(1.0, grid.cell));
  // Beyond the yard the raster was not read, or ends: what a point there seems to differ from its last cells
  // is the fall of the ground in between.
  const Survey known = points_that(dense, [&](const SurveyPoint& point) {
    return !beyond(grid, point.at) || !height_at(map, {point.at.x, point.at.y}).outside;
  });
  std::vector<Point3> differences = places(known);
  for (Point3& p : differences) p.z -= height_at(map, {p.x, p.y}).z + datum.shift;
  const Tin tin = triangulate(differences, known.edges);
  if (tin.triangles.empty()) {
    for (double& z : elevation) z += datum.shift;
    return 0;
  }
  const auto left = std::count_if(survey.points.begin(), survey.points.end(), [&](const SurveyPoint& point) {
    return !beyond(grid, point.at) || !height_at(map, {point.at.x, point.at.y}).outside;
  });
  const double reach = 2 * std::sqrt(hull_area(tin) / static_cast<double>(std::max<std::ptrdiff_t>(left, 1)));
  Field gap;
  const Field change = interpolate(tin, grid, &gap);
  for (std::size_t c = 0; c < elevation.size(); ++c)
    elevation[c] += datum.shift + change[c] * std::max(0.0, 1 - gap[c] / reach);
  return reach;
}

} // namespace lowspot::terrain
