#include <lowspot/drain/own_plan.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace lowspot::drain {
namespace {

constexpr double least_own = 0.02;
constexpr int across = 16; // places looked at over the width of a trench

// Of the straight piece from a to b: how far along it a place lies, and how far to its side [m].
struct Beside {
  double along, off, length;
};
Beside beside(const Point& a, const Point& b, const Point& at) {
  const double whole = distance(a, b);
  if (!(whole > 0)) return {-1, 0, 0};
  const double x = (b.x - a.x) / whole, y = (b.y - a.y) / whole;
  return {(at.x - a.x) * x + (at.y - a.y) * y, (at.y - a.y) * x - (at.x - a.x) * y, whole};
}

bool in_trench(const Run& run, const Point& at) {
  for (std::size_t k = 1; k < run.path.size(); ++k) {
    const Beside place = beside(run.path[k - 1], run.path[k], at);
    if (place.along >= 0 && place.along <= place.length && std::abs(place.off) <= run.trench_width / 2)
      return true;
  }
  return false;
}

// Way out of a run from the end that is called `name`.
Point way_from(const Run& run, const std::string& name) {
  const bool at_head = run.from == name;
  const Point& end = at_head ? run.path.front() : run.path.back();
  const Point& next = at_head ? run.path[1] : run.path[run.path.size() - 2];
  const double whole = std::max(distance(end, next), 1e-12);
  return {(next.x - end.x) / whole, (next.y - end.y) / whole};
}

// Whether the trenches of two runs are one round a bend.
bool goes_on(const Layout& layout, const Run& a, const Run& b) {
  for (const std::string& name : {a.from, a.to}) {
    if (name.empty() || (b.from != name && b.to != name)) continue;
    const auto meet = std::count_if(layout.runs.begin(), layout.runs.end(), [&](const Run& run) {
      return run.has_trench && (run.from == name || run.to == name);
    });
    const Point one = way_from(a, name), other = way_from(b, name);
    if (meet == 2 && one.x * other.x + one.y * other.y <= 1e-9) return true;
  }
  return false;
}

} // namespace

bool in_pit(const Layout& layout, const Point& at) {
  return std::any_of(layout.outlets.begin(), layout.outlets.end(), [&](const Outlet& outlet) {
    const double plan = std::max(outlet.chamber.area, outlet.chamber.soak_plan);
    return plan > 0 && distance(outlet.at, at) < std::sqrt(plan / std::numbers::pi);
  });
}

int other_trenches(const Layout& layout, int run, const Point& at) {
  int others = 0;
  for (std::size_t r = 0; r < layout.runs.size(); ++r) {
    const Run& other = layout.runs[r];
    if (static_cast<int>(r) == run || !other.has_trench || !in_trench(other, at)) continue;
    if (!goes_on(layout, layout.runs[run], other)) ++others;
  }
  return others;
}

double own_share(const Layout& layout, const Station& station) {
  const Run& run = layout.runs[station.run];
  if (!run.has_trench || !(station.trench_width > 0) || !(station.length > 0)) return 1;
  const int rows =
      std::clamp(static_cast<int>(std::ceil(across * station.length / station.trench_width)), 1, 200);
  double own = 0;
  for (int k = 0; k < rows; ++k) {
    const double along = station.distance + station.length * ((k + 0.5) / rows - 0.5);
    const Point middle = point_along(run.path, along), a = point_along(run.path, along - 1e-3),
                b = point_along(run.path, along + 1e-3);
    const double span = std::max(distance(a, b), 1e-12);
    for (int j = 0; j < across; ++j) {
      const double off = station.trench_width * ((j + 0.5) / across - 0.5);
      const Point at{middle.x - (b.y - a.y) / span * off, middle.y + (b.x - a.x) / span * off};
      if (!in_pit(layout, at)) own += 1.0 / (1 + other_trenches(layout, station.run, at));
    }
  }
  return std::max(least_own, own / (rows * across));
}

} // namespace lowspot::drain
