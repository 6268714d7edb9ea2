#include <lowspot/terrain/doubt.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/terrain/low_spots.hpp>

namespace lowspot::terrain {
namespace {

constexpr double rod = 0.003;         // m
constexpr double unknown_rate = 0.02; // m/m
constexpr std::size_t most_tried = 30;

std::vector<char> marks(const Survey& survey, const std::vector<double>& error, const std::vector<int>& bad) {
  std::vector<char> unrated(survey.points.size(), 0);
  for (std::size_t k = 0; k < unrated.size(); ++k)
    unrated[k] = std::isnan(error[k]) || std::count(bad.begin(), bad.end(), survey.points[k].line) > 0;
  return unrated;
}

struct Candidate {
  Point at;
  double rank = 0;
};

std::vector<Candidate> candidates(const Tin& tin, const Doubt& doubt, const site::Site& site) {
  std::vector<Candidate> list;
  for (const Triangle& triangle : tin.triangles) {
    const Point3 &a = tin.points[triangle.corner[0]], &b = tin.points[triangle.corner[1]],
                 &c = tin.points[triangle.corner[2]];
    const Point middle{(a.x + b.x + c.x) / 3, (a.y + b.y + c.y) / 3};
    const double twice_area = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
    if (twice_area < 0.1 || !contains(site.outline, middle)) continue;
    bool taken = false;
    for (const site::Building& building : site.buildings) taken = taken || contains(building.outline, middle);
    for (const site::Area& area : site.areas)
      taken = taken || (area.surface.size() >= 3 && contains(area.outline, middle));
    if (!taken) list.push_back({middle, twice_area * doubt.at(middle)});
  }
  std::stable_sort(list.begin(), list.end(), [](const auto& a, const auto& b) { return a.rank > b.rank; });
  if (list.size() > most_tried) list.resize(most_tried);
  return list;
}

// 1 at the place, sloping to 0 at the points that it would be joined to.
Field hat(const Survey& survey, const Point& place, const Grid& grid) {
  std::vector<Point3> points = places(survey);
  for (Point3& p : points) p.z = 0;
  points.push_back({place.x, place.y, 1});
  return interpolate(triangulate(points, survey.edges), grid);
}

} // namespace

Doubt::Doubt(const Survey& survey, const std::vector<double>& error, const std::vector<int>& bad)
    : survey_(survey), neighbours_(survey), none_(survey.points.size(), 0),
      unrated_(marks(survey, error, bad)), rate_(survey.points.size(), 0) {
  for (std::size_t k = 0; k < rate_.size(); ++k) {
    if (unrated_[k]) continue;
    const auto nearest = neighbours_.near(survey.points[k].at, 1, none_, static_cast<int>(k));
    if (nearest.empty()) {
      unrated_[k] = 1;
      continue;
    }
    const Point3 &a = survey.points[k].at, &b = survey.points[nearest[0]].at;
    // Shots closer than a stride say more of the rod than of the ground.
    rate_[k] = std::abs(error[k]) / std::max(0.5, std::hypot(a.x - b.x, a.y - b.y));
  }
}

double Doubt::reach(const Point& place) const {
  const auto nearest = neighbours_.near({place.x, place.y, 0}, 1, none_, -1);
  if (nearest.empty()) return 0;
  return std::hypot(survey_.points[nearest[0]].at.x - place.x, survey_.points[nearest[0]].at.y - place.y);
}

double Doubt::at(const Point& place) const {
  double sum = 0;
  const auto rated = neighbours_.near({place.x, place.y, 0}, 8, unrated_, -1);
  for (int k : rated) sum += rate_[k] * rate_[k];
  const double rate = rated.empty() ? unknown_rate : std::sqrt(sum / static_cast<double>(rated.size()));
  return std::hypot(rod, rate * reach(place));
}

Field Doubt::on(const Grid& grid, const Mask& active) const {
  Field field(grid.cells(), std::numeric_limits<double>::quiet_NaN());
  for (std::size_t c = 0; c < field.size(); ++c)
    if (active[c]) field[c] = at({grid.x(grid.column(c)), grid.y(grid.row(c))});
  return field;
}

double low_spot_volume(const Ground& ground) {
  double sum = 0;
  for (const LowSpot& spot : find_low_spots(ground)) sum += spot.volume;
  return sum;
}

std::vector<NextShot> next_shots(const Ground& ground, const Survey& survey, const Tin& tin,
                                 const Doubt& doubt, const site::Site& site, std::size_t count) {
  const double now = low_spot_volume(ground);
  Mask fixed(ground.grid.cells(), 0);
  for (std::size_t c = 0; c < fixed.size(); ++c)
    fixed[c] = ground.cover[c] >= 0 && site.areas[ground.cover[c]].surface.size() >= 3;
  std::vector<NextShot> tried;
  Ground other = ground;
  for (const Candidate& candidate : candidates(tin, doubt, site)) {
    NextShot next{candidate.at, doubt.at(candidate.at), doubt.reach(candidate.at), 0};
    const Field share = hat(survey, candidate.at, ground.grid);
    for (double sign : {1.0, -1.0}) {
      for (std::size_t c = 0; c < share.size(); ++c)
        other.elevation[c] = ground.elevation[c] + (fixed[c] ? 0 : sign * next.doubt * share[c]);
      next.volume_change = std::max(next.volume_change, std::abs(low_spot_volume(other) - now));
    }
    tried.push_back(next);
  }
  // Where no low spot would change, the widest gap in what is known comes first.
  std::stable_sort(tried.begin(), tried.end(), [](const NextShot& a, const NextShot& b) {
    return a.volume_change != b.volume_change ? a.volume_change > b.volume_change : a.doubt > b.doubt;
  });
  const Box box = bounds(site.outline);
  const double apart = std::min(box.high.x - box.low.x, box.high.y - box.low.y) / 4;
  std::vector<NextShot> chosen;
  for (double least : {apart, apart / 4, 0.0})
    for (const NextShot& next : tried) {
      bool close = false;
      for (const NextShot& before : chosen) close = close || distance(before.at, next.at) <= least;
      if (!close && chosen.size() < count) chosen.push_back(next);
    }
  std::stable_sort(chosen.begin(), chosen.end(),
                   [](const NextShot& a, const NextShot& b) { return a.volume_change > b.volume_change; });
  return chosen;
}

} // namespace lowspot::terrain
