#include <lowspot/site/crossings.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/site/area_at.hpp>

namespace lowspot::site {
namespace {

constexpr double piece_length = 0.05; // m

bool meet(const Point& a, const Point& b, const Point& c, const Point& d) {
  const auto turn = [](const Point& p, const Point& q, const Point& r) {
    return (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
  };
  return turn(a, b, c) * turn(a, b, d) <= 0 && turn(c, d, a) * turn(c, d, b) <= 0;
}

} // namespace

std::vector<std::pair<std::string, double>> crossed(const Site& site, const Polyline& way) {
  std::vector<std::pair<std::string, double>> list;
  const double whole = length(way);
  const int pieces = std::max(1, static_cast<int>(std::ceil(whole / piece_length)));
  for (int k = 0; k < pieces; ++k) {
    const Point at = point_along(way, whole * (k + 0.5) / pieces);
    const Area& area = area_at(site, at);
    if (&area == &site.lawn || is_lawn(area)) continue; // a trench through lawn is what one hopes for
    const auto found =
        std::find_if(list.begin(), list.end(), [&](const auto& item) { return item.first == area.name; });
    if (found == list.end())
      list.push_back({area.name, whole / pieces});
    else
      found->second += whole / pieces;
  }
  for (const Wall& wall : site.walls)
    for (std::size_t i = 1; i < way.size(); ++i)
      for (std::size_t j = 1; j < wall.line.size(); ++j)
        if (meet(way[i - 1], way[i], wall.line[j - 1], wall.line[j]) &&
            (list.empty() || list.back().first != wall.name))
          list.push_back({wall.name, 0});
  return list;
}

} // namespace lowspot::site
