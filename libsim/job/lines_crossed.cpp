#include <lowspot/job/lines_crossed.hpp>

#include <cmath>

namespace lowspot::job {
namespace {

constexpr double same_place = 1e-3; // m: a crossing at a bend of either line belongs to two pieces of it

void add(const Polyline& way, const Polyline& line, const std::string& name,
         std::vector<LineCrossed>& found) {
  double passed = 0;
  for (std::size_t i = 1; i < way.size(); ++i) {
    const Point a = way[i - 1], b = way[i];
    const double ux = b.x - a.x, uy = b.y - a.y, whole = std::hypot(ux, uy);
    for (std::size_t j = 1; j < line.size(); ++j) {
      const Point c = line[j - 1], d = line[j];
      const double vx = d.x - c.x, vy = d.y - c.y, across = ux * vy - uy * vx;
      if (std::abs(across) <= 1e-9 * whole * std::hypot(vx, vy)) continue;
      const double s = ((c.x - a.x) * vy - (c.y - a.y) * vx) / across;
      const double t = ((c.x - a.x) * uy - (c.y - a.y) * ux) / across;
      if (s < 0 || s > 1 || t < 0 || t > 1) continue;
      const double place = passed + s * whole;
      if (!found.empty() && found.back().name == name && std::abs(found.back().distance - place) < same_place)
        continue;
      found.push_back({name, place});
    }
    passed += whole;
  }
}

} // namespace

std::vector<LineCrossed> lines_crossed(const site::Site& site, const Polyline& way) {
  std::vector<LineCrossed> found;
  for (const site::Utility& line : site.utilities) add(way, line.path, line.name, found);
  for (const site::KeepOff& line : site.keep_offs) {
    Polyline shape = line.shape;
    if (line.closed && !shape.empty()) shape.push_back(shape.front());
    add(way, shape, line.name.empty() ? line.kind : line.name, found);
  }
  return found;
}

} // namespace lowspot::job
