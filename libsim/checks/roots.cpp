#include <lowspot/checks/roots.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/checks/judge.hpp>

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

// The four sides of one straight piece of trench.
std::vector<Point> corners(const Point& a, const Point& b, double width) {
  const double length = std::max(distance(a, b), 1e-9);
  const double ox = -(b.y - a.y) / length * width / 2, oy = (b.x - a.x) / length * width / 2;
  return {{a.x + ox, a.y + oy}, {b.x + ox, b.y + oy}, {b.x - ox, b.y - oy}, {a.x - ox, a.y - oy}};
}

} // namespace

double share_cut_off(const Point& trunk, double radius, const std::vector<Polyline>& trenches,
                     const std::vector<double>& widths) {
  std::vector<std::vector<Point>> pieces;
  for (std::size_t k = 0; k < trenches.size(); ++k)
    for (std::size_t p = 1; p < trenches[k].size(); ++p)
      pieces.push_back(corners(trenches[k][p - 1], trenches[k][p], widths[k]));
  constexpr int directions = 3600;
  double lost = 0;
  for (int d = 0; d < directions; ++d) {
    const double angle = 2 * M_PI * (d + 0.5) / directions;
    const double c = std::cos(angle), s = std::sin(angle);
    double free = radius;
    for (const std::vector<Point>& piece : pieces) {
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
  if (std::isnan(times) || works.sheet.runs.empty()) return;
  std::vector<Polyline> trenches;
  std::vector<double> widths;
  for (const job::CutRun& cut : works.sheet.runs) {
    trenches.push_back(works.run(cut).path);
    widths.push_back(cut.width);
  }
  for (const site::Tree& tree : site.trees) {
    const double radius = times * tree.trunk;
    double gap = std::numeric_limits<double>::infinity();
    std::string nearest;
    for (std::size_t k = 0; k < trenches.size(); ++k)
      if (const double found = std::max(0.0, distance_to(trenches[k], tree.at) - widths[k] / 2); found < gap)
        gap = found, nearest = works.sheet.runs[k].name;
    results::CheckRecord record = item(site, "root_loss", "roots", "Roots of trees", tree.name);
    const double share = share_cut_off(tree.at, radius, trenches, widths);
    const std::string where = nearest + " passes " + length_text(gap, site) +
                              " from the trunk; the critical " + "radius is " + length_text(radius, site);
    judge(record, site, "root_loss", share, " of the ground within it (" + where + ")");
    if (share == 0) record.found = "no roots within the critical radius are cut (" + where + ")";
    list.push_back(std::move(record));
  }
}

} // namespace lowspot::checks
