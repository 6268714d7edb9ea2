#include <lowspot/checks/roots.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/checks/judge.hpp>
#include <lowspot/site/combine.hpp>

namespace lowspot::checks {
namespace {

// Distance from `from` in direction (c, s) to a segment [m], infinite when it is not met.
double reach_to(const Point& from, double c, double s, const Point& a, const Point& b) {
  constexpr double none = std::numeric_limits<double>::infinity();
  const double ex = b.x - a.x, ey = b.y - a.y, dx = a.x - from.x, dy = a.y - from.y;
  const double across = c * ey - s * ex;
  if (std::abs(across) < 1e-12) return none;
  const double ahead = (dx * ey - dy * ex) / across, along = (dx * s - dy * c) / across;
  return ahead >= 0 && along >= 0 && along <= 1 ? ahead : none;
}

Dug around(const std::string& name, const Point& at, double radius) {
  constexpr int sides = 72;
  const double out = radius / std::cos(M_PI / sides); // the circle lies within
  Dug pit{name, {}};
  for (int k = 0; k < sides; ++k)
    pit.outline.push_back(
        {at.x + out * std::cos(2 * M_PI * k / sides), at.y + out * std::sin(2 * M_PI * k / sides)});
  return pit;
}

// All that is dug and does not stand from an earlier stage, piece by piece. Planes and swales are shaped, not
// dug through.
std::vector<Dug> digging(const Works& works) {
  std::vector<Dug> list;
  const auto add = [&](const std::vector<Dug>& pieces) {
    list.insert(list.end(), pieces.begin(), pieces.end());
  };
  for (const job::CutRun& cut : works.sheet.runs) add(trench(cut.name, works.run(cut).path, cut.width));
  for (const Pit& pit : pits(*works.design)) list.push_back(around(pit.name, pit.at, pit.radius));
  const auto is_new = [&](const auto& work) { return !site::stands_already(*works.design, work.name); };
  for (const site::Inlet& inlet : works.design->inlets) {
    if (!is_new(inlet)) continue;
    const double x = inlet.grate.length / 2;
    add(trench(inlet.name, {{inlet.at.x - x, inlet.at.y}, {inlet.at.x + x, inlet.at.y}}, inlet.grate.width));
  }
  for (const site::Channel& channel : works.design->channels)
    if (is_new(channel)) add(trench(channel.name, channel.path, channel.width));
  for (const site::Basin& basin : works.design->basins)
    if (is_new(basin)) list.push_back({basin.name, basin.outline});
  for (const site::Amend& amend : works.design->amends)
    if (is_new(amend)) list.push_back({amend.name, amend.outline});
  return list;
}

} // namespace

std::vector<Dug> trench(const std::string& name, const Polyline& path, double width) {
  std::vector<Dug> pieces;
  for (std::size_t p = 1; p < path.size(); ++p) {
    const Point &a = path[p - 1], &b = path[p];
    const double length = std::max(distance(a, b), 1e-9);
    const double ox = -(b.y - a.y) / length * width / 2, oy = (b.x - a.x) / length * width / 2;
    pieces.push_back(
        {name, {{a.x + ox, a.y + oy}, {b.x + ox, b.y + oy}, {b.x - ox, b.y - oy}, {a.x - ox, a.y - oy}}});
  }
  return pieces;
}

double share_cut_off(const Point& trunk, double radius, const std::vector<Dug>& dug) {
  constexpr int directions = 3600;
  double lost = 0;
  for (int d = 0; d < directions; ++d) {
    const double angle = 2 * M_PI * (d + 0.5) / directions;
    const double c = std::cos(angle), s = std::sin(angle);
    double free = radius;
    for (const auto& [name, piece] : dug) {
      if (contains(piece, trunk)) free = 0;
      for (std::size_t k = 0; k < piece.size(); ++k)
        free = std::min(free, reach_to(trunk, c, s, piece[k], piece[(k + 1) % piece.size()]));
    }
    lost += 1 - free * free / (radius * radius);
  }
  return lost / directions;
}

void check_roots(const site::Site& site, const Works& works, std::vector<results::CheckRecord>& list) {
  const double times = limit_value(site, "root_radius");
  const std::vector<Dug> dug = digging(works);
  if (std::isnan(times) || dug.empty()) return;
  for (const site::Tree& tree : site.trees) {
    const double radius = times * tree.trunk;
    double gap = std::numeric_limits<double>::infinity();
    std::string nearest;
    for (const Dug& piece : dug)
      if (const double found = distance_to_outline(piece.outline, tree.at); found < gap)
        gap = found, nearest = piece.name;
    results::CheckRecord record = item(site, "root_loss", "roots", "Roots of trees", tree.name);
    const double share = share_cut_off(tree.at, radius, dug);
    const std::string where = nearest + " is dug " + length_text(gap, site) +
                              " from the trunk; the critical " + "radius is " + length_text(radius, site);
    judge(record, site, "root_loss", share, " of the ground within it (" + where + ")");
    if (share == 0) record.found = "no roots within the critical radius are cut (" + where + ")";
    list.push_back(std::move(record));
  }
}

} // namespace lowspot::checks
