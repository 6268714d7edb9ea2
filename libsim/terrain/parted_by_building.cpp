#include <lowspot/terrain/parted_by_building.hpp>

#include <algorithm>
#include <cmath>

namespace lowspot::terrain {
namespace {

constexpr double at_the_wall =
    0.3;                       // m: shots are taken a hand's width off a wall, and walls are taped as well
constexpr double every = 0.25; // m along the way
constexpr double most_samples = 200;

bool leads_through(const Polygon& building, const Point& from, const Point& to) {
  const Box box = bounds(building);
  if (std::max(from.x, to.x) < box.low.x || std::min(from.x, to.x) > box.high.x ||
      std::max(from.y, to.y) < box.low.y || std::min(from.y, to.y) > box.high.y)
    return false;
  Polyline walls = building;
  walls.push_back(building.front());
  const int samples = static_cast<int>(std::clamp(std::ceil(distance(from, to) / every), 1.0, most_samples));
  for (int k = 0; k <= samples; ++k) {
    const double share = static_cast<double>(k) / samples;
    const Point at{from.x + share * (to.x - from.x), from.y + share * (to.y - from.y)};
    if (contains(building, at) && distance_to(walls, at) > at_the_wall) return true;
  }
  return false;
}

} // namespace

bool parted_by_building(const std::vector<Polygon>& buildings, const Point& from, const Point& to) {
  return std::any_of(buildings.begin(), buildings.end(), [&](const Polygon& building) {
    return building.size() >= 3 && leads_through(building, from, to);
  });
}

} // namespace lowspot::terrain
