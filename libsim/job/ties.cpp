#include <lowspot/job/ties.hpp>

#include <algorithm>
#include <cmath>

namespace lowspot::job {
namespace {

constexpr double same_place = 0.05; // m

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

std::vector<Tie> swing_ties(const site::Design& design, const std::vector<Corner>& corners) {
  std::vector<Tie> ties;
  if (corners.size() < 2) return ties;
  for (const site::Outlet& outlet : design.outlets) add(ties, outlet.name, outlet.at);
  for (const site::Fitting& fitting : design.fittings) add(ties, fitting.name, fitting.at);
  for (const site::Inlet& inlet : design.inlets) add(ties, inlet.name, inlet.at);
  for (const site::Run& run : design.runs)
    if (!run.path.empty()) {
      add(ties, "head of " + run.name, run.path.front());
      for (std::size_t k = 1; k + 1 < run.path.size(); ++k) add(ties, "bend of " + run.name, run.path[k]);
      add(ties, "foot of " + run.name, run.path.back());
    }
  for (Tie& tie : ties) {
    double best = -1;
    for (std::size_t a = 0; a < corners.size(); ++a)
      for (std::size_t b = a + 1; b < corners.size(); ++b) {
        const double found = quality(tie.at, corners[a].at, corners[b].at);
        if (found <= best) continue;
        best = found;
        tie.first = a;
        tie.second = b;
      }
    tie.to_first = distance(tie.at, corners[tie.first].at);
    tie.to_second = distance(tie.at, corners[tie.second].at);
  }
  return ties;
}

} // namespace lowspot::job
