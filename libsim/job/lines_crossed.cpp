#include <lowspot/job/lines_crossed.hpp>

#include <algorithm>
#include <cmath>

namespace lowspot::job {

std::vector<Crossing> crossings(const Polyline& run, const Polyline& other) {
  std::vector<Crossing> found;
  double passed = 0;
  for (std::size_t i = 1; i < run.size(); ++i) {
    const Point a = run[i - 1], b = run[i];
    const double ux = b.x - a.x, uy = b.y - a.y, length = std::hypot(ux, uy);
    for (std::size_t j = 1; j < other.size(); ++j) {
      const Point c = other[j - 1], d = other[j];
      const double vx = d.x - c.x, vy = d.y - c.y, across = ux * vy - uy * vx;
      const double size = length * std::hypot(vx, vy);
      if (std::abs(across) <= 1e-9 * size) continue;
      const double s = ((c.x - a.x) * vy - (c.y - a.y) * vx) / across;
      const double t = ((c.x - a.x) * uy - (c.y - a.y) * ux) / across;
      if (s < 0 || s > 1 || t < 0 || t > 1) continue;
      const double place = passed + s * length;
      // A crossing at a bend belongs to both pieces; it is one.
      if (!found.empty() && std::abs(found.back().distance - place) < 1e-6) continue;
      found.push_back({place, std::asin(std::min(1.0, std::abs(across) / size))});
    }
    passed += length;
  }
  return found;
}

std::vector<LineCrossed> lines_crossed(const site::Site& site, const Polyline& way) {
  std::vector<LineCrossed> found;
  const auto add = [&](const Polyline& line, const std::string& name) {
    for (const Crossing& one : crossings(way, line)) found.push_back({name, one.distance});
  };
  for (const site::Utility& line : site.utilities) add(line.path, line.name);
  for (const site::KeepOff& line : site.keep_offs) {
    Polyline shape = line.shape;
    if (line.closed && !shape.empty()) shape.push_back(shape.front());
    add(shape, line.name.empty() ? line.kind : line.name);
  }
  return found;
}

} // namespace lowspot::job
