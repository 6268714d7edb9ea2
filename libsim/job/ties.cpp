#include <lowspot/job/ties.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/job/cut_sheet.hpp>

namespace lowspot::job {
namespace {

constexpr double same_place = 0.05;  // m
constexpr double in_the_wall = 0.03; // m: a tape held at a wall, or bent round its corner, reads the same

// Whether a tape between two places would go through a building. The piece between two walls is farthest from
// them near its middle.
bool through(const Polygon& building, const Point& from, const Point& to) {
  Polyline walls = building;
  walls.push_back(building.front());
  std::vector<double> cuts{0, 1};
  for (std::size_t k = 1; k < walls.size(); ++k) {
    const Point &a = walls[k - 1], &b = walls[k];
    const double turn = (to.x - from.x) * (b.y - a.y) - (to.y - from.y) * (b.x - a.x);
    if (turn == 0) continue;
    const double along = ((a.x - from.x) * (b.y - a.y) - (a.y - from.y) * (b.x - a.x)) / turn;
    if (along > 0 && along < 1) cuts.push_back(along);
  }
  std::sort(cuts.begin(), cuts.end());
  for (std::size_t k = 1; k < cuts.size(); ++k) {
    const double middle = 0.5 * (cuts[k - 1] + cuts[k]);
    const Point at{from.x + middle * (to.x - from.x), from.y + middle * (to.y - from.y)};
    if (contains(building, at) && distance_to(walls, at) > in_the_wall) return true;
  }
  return false;
}

bool sees(const site::Site& site, const Point& from, const Point& to) {
  return std::none_of(site.buildings.begin(), site.buildings.end(), [&](const site::Building& building) {
    return building.outline.size() >= 3 && through(building.outline, from, to);
  });
}

// The same two tapes cross a second time on the other side of the line between the corners.
std::string side_of(const site::Site& site, const Point& at, const Point& a, const Point& b) {
  const double base = distance(a, b);
  if (base < same_place) return "";
  const Point ahead{(b.x - a.x) / base, (b.y - a.y) / base};
  const double left = ahead.x * (at.y - a.y) - ahead.y * (at.x - a.x);
  const Point mirrored{at.x + 2 * left * ahead.y, at.y - 2 * left * ahead.x};
  if (2 * std::abs(left) < 2 * same_place || !contains(site.outline, mirrored)) return "";
  if (!sees(site, a, mirrored) || !sees(site, b, mirrored)) return "";
  return left > 0 ? "left" : "right";
}

// How well two tapes fix a point: the sine of the angle between them, less what long tapes lose.
double quality(const Point& at, const Point& a, const Point& b) {
  const double to_a = distance(at, a), to_b = distance(at, b);
  if (to_a < 1e-6 || to_b < 1e-6) return 0;
  const double cross = (a.x - at.x) * (b.y - at.y) - (a.y - at.y) * (b.x - at.x);
  const double sine = std::abs(cross) / (to_a * to_b);
  return sine / (10 + std::max(to_a, to_b)); // 10 m: as far as one tape reaches in one pull
}

void add(std::vector<Tie>& ties, const std::string& name, const Point& at) {
  const bool known = std::any_of(ties.begin(), ties.end(),
                                 [&](const Tie& tie) { return distance(tie.at, at) < same_place; });
  if (!known) ties.push_back({name, at});
}

} // namespace

std::vector<Corner> fixed_corners(const site::Site& site, std::size_t most) {
  std::vector<Corner> corners;
  const auto take = [&](const Polygon& outline) {
    for (const Point& at : outline)
      if (corners.size() < most)
        corners.push_back({std::string(1, static_cast<char>('A' + corners.size())), at});
  };
  for (const site::Building& building : site.buildings) take(building.outline);
  if (corners.empty()) take(site.outline);
  return corners;
}

std::vector<Tie> swing_ties(const site::Site& site, const site::Design& design,
                            const std::vector<Corner>& corners) {
  std::vector<Tie> ties;
  if (corners.size() < 2) return ties;
  for (const site::Outlet& outlet : design.outlets) add(ties, outlet.name, outlet.at);
  for (const site::Fitting& fitting : design.fittings) add(ties, fitting.name, fitting.at);
  for (const site::Inlet& inlet : design.inlets) add(ties, inlet.name, inlet.at);
  for (const site::Run& run : design.runs)
    if (!run.path.empty()) {
      add(ties, "head of " + run.name, run.path.front());
      for (std::size_t k = 1; k + 1 < run.path.size(); ++k)
        if (bends(run.path, k)) add(ties, "bend of " + run.name, run.path[k]);
      add(ties, "foot of " + run.name, run.path.back());
    }
  for (Tie& tie : ties) {
    std::vector<std::size_t> seen;
    for (std::size_t c = 0; c < corners.size(); ++c)
      if (sees(site, corners[c].at, tie.at)) seen.push_back(c);
    tie.in_sight = seen.size() >= 2;
    if (!tie.in_sight) continue;
    double best = -1;
    for (const std::size_t a : seen)
      for (const std::size_t b : seen) {
        if (b <= a) continue;
        const double found = quality(tie.at, corners[a].at, corners[b].at);
        if (found <= best) continue;
        best = found;
        tie.first = a;
        tie.second = b;
      }
    tie.to_first = distance(tie.at, corners[tie.first].at);
    tie.to_second = distance(tie.at, corners[tie.second].at);
    tie.side = side_of(site, tie.at, corners[tie.first].at, corners[tie.second].at);
  }
  return ties;
}

} // namespace lowspot::job
