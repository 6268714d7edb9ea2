#include <lowspot/terrain/constrain.hpp>

#include <algorithm>
#include <deque>
#include <set>
#include <utility>

namespace lowspot::terrain {
namespace {

// Products of four steps of 1e9 need 124 bits.
__extension__ using Wide = __int128;

struct BreaklineSide {
  int triangle = -1;
  int opposite = 0; // corner that the side does not touch
};

class Mender {
public:
  Mender(const std::vector<Place>& places, Tin& tin) : places_(places), tin_(tin) {
    some_triangle_.assign(places.size(), -1);
    for (std::size_t t = 0; t < tin.triangles.size(); ++t)
      for (int corner : tin.triangles[t].corner) some_triangle_[corner] = static_cast<int>(t);
    for (const auto& side : tin.fixed) fixed_.insert(std::minmax(side[0], side[1]));
  }

  // Follows the straight line from a to b; false where it meets a line that must stay.
  bool follow(int a, int b) {
    while (a != b) {
      int end = b;
      std::deque<std::pair<int, int>> crossed;
      if (!collect(a, b, end, crossed)) return false;
      swap_away(a, end, crossed);
      if (fixed_.insert(std::minmax(a, end)).second) tin_.fixed.push_back({a, end});
      settle();
      a = end;
    }
    return true;
  }

private:
  // Twice the area of a, b, c: positive when c lies left of a to b.
  std::int64_t turn(int a, int b, int c) const {
    const std::int64_t ux = places_[b][0] - places_[a][0], uy = places_[b][1] - places_[a][1];
    const std::int64_t vx = places_[c][0] - places_[a][0], vy = places_[c][1] - places_[a][1];
    return ux * vy - uy * vx;
  }

  // Whether d lies inside the circle through a, b, c (anticlockwise).
  bool in_circle(int a, int b, int c, int d) const {
    auto lifted = [&](int p) {
      const Wide x = places_[p][0] - places_[d][0], y = places_[p][1] - places_[d][1];
      return x * x + y * y;
    };
    const Wide sum = lifted(a) * turn(d, b, c) + lifted(b) * turn(d, c, a) + lifted(c) * turn(d, a, b);
    return sum > 0;
  }

  bool ahead(int a, int b, int c) const { // c lies from a in the direction of b
    const std::int64_t ux = places_[b][0] - places_[a][0], uy = places_[b][1] - places_[a][1];
    return ux * (places_[c][0] - places_[a][0]) + uy * (places_[c][1] - places_[a][1]) > 0;
  }

  int corner_of(int triangle, int point) const {
    const auto& corner = tin_.triangles[triangle].corner;
    return corner[0] == point ? 0 : corner[1] == point ? 1 : 2;
  }

  // All triangles round a point.
  std::vector<int> star(int point) const {
    std::vector<int> around;
    const int start = some_triangle_[point];
    if (start < 0) return around;
    int t = start;
    do {
      around.push_back(t);
      t = tin_.triangles[t].beside[(corner_of(t, point) + 1) % 3];
    } while (t >= 0 && t != start);
    if (t == start) return around;
    for (t = tin_.triangles[start].beside[(corner_of(start, point) + 2) % 3]; t >= 0;
         t = tin_.triangles[t].beside[(corner_of(t, point) + 2) % 3])
      around.push_back(t);
    return around;
  }

  // The side between two points as seen from the triangle on its left, or right on the hull.
  BreaklineSide side_between(int a, int b) const {
    for (int t : star(a))
      for (int k = 0; k < 3; ++k) {
        const auto& corner = tin_.triangles[t].corner;
        const int p = corner[(k + 1) % 3], q = corner[(k + 2) % 3];
        if ((p == a && q == b) || (p == b && q == a)) return {t, k};
      }
    return {};
  }

  // Lists the sides that the line from a towards b crosses, up to `end`: b, or the first point that lies on
  // the line.
  bool collect(int a, int b, int& end, std::deque<std::pair<int, int>>& crossed) const {
    int left = -1, right = -1, triangle = -1;
    for (int t : star(a)) {
      const int at = corner_of(t, a);
      const int first = tin_.triangles[t].corner[(at + 1) % 3];
      const int second = tin_.triangles[t].corner[(at + 2) % 3];
      for (int c : {first, second})
        if (turn(a, b, c) == 0 && ahead(a, b, c)) {
          end = c;
          return true;
        }
      if (turn(a, first, b) > 0 && turn(a, second, b) < 0) {
        right = first;
        left = second;
        triangle = t;
      }
    }
    while (triangle >= 0) {
      if (fixed_.count(std::minmax(left, right))) return false;
      crossed.emplace_back(left, right);
      const int previous = triangle;
      const auto& here = tin_.triangles[previous];
      for (int k = 0; k < 3; ++k)
        if (here.corner[k] != left && here.corner[k] != right) triangle = here.beside[k];
      if (triangle < 0) return false;
      int apex = -1;
      for (int c : tin_.triangles[triangle].corner)
        if (c != left && c != right) apex = c;
      const std::int64_t where = turn(a, b, apex);
      if (apex == b || where == 0) {
        end = apex;
        return true;
      }
      (where > 0 ? left : right) = apex;
    }
    return false;
  }

  bool crosses(int p, int q, int a, int b) const {
    if (p == a || p == b || q == a || q == b) return false;
    return (turn(a, b, p) > 0) != (turn(a, b, q) > 0);
  }

  void swap_away(int a, int b, std::deque<std::pair<int, int>>& crossed) {
    while (!crossed.empty()) {
      const auto [c, d] = crossed.front();
      crossed.pop_front();
      const BreaklineSide side = side_between(c, d);
      int p = -1, q = -1;
      if (!swappable(side, p, q)) {
        crossed.emplace_back(c, d);
        continue;
      }
      flip(side);
      if (crosses(p, q, a, b))
        crossed.emplace_back(p, q);
      else
        loose_.emplace_back(p, q);
    }
  }

  // p, q: the ends of the other diagonal. False where the two triangles make no convex quadrilateral.
  bool swappable(const BreaklineSide& side, int& p, int& q) const {
    const Triangle& here = tin_.triangles[side.triangle];
    const int other = here.beside[side.opposite];
    if (other < 0) return false;
    const int a = here.corner[(side.opposite + 1) % 3], b = here.corner[(side.opposite + 2) % 3];
    p = here.corner[side.opposite];
    for (int c : tin_.triangles[other].corner)
      if (c != a && c != b) q = c;
    return turn(p, q, a) < 0 && turn(p, q, b) > 0;
  }

  void relink(int triangle, int from, int to) {
    if (triangle < 0) return;
    for (int& other : tin_.triangles[triangle].beside)
      if (other == from) {
        other = to;
        return;
      }
  }

  void flip(const BreaklineSide& side) {
    const int t = side.triangle, k = side.opposite;
    const Triangle old_t = tin_.triangles[t];
    const int u = old_t.beside[k];
    const Triangle old_u = tin_.triangles[u];
    const int a = old_t.corner[(k + 1) % 3], b = old_t.corner[(k + 2) % 3], p = old_t.corner[k];
    int m = 0;
    while (old_u.corner[m] == a || old_u.corner[m] == b) ++m;
    const int q = old_u.corner[m];
    const int beyond_aq = old_u.beside[(m + 1) % 3], beyond_qb = old_u.beside[(m + 2) % 3];
    const int beyond_bp = old_t.beside[(k + 1) % 3], beyond_pa = old_t.beside[(k + 2) % 3];
    tin_.triangles[t] = {{p, a, q}, {beyond_aq, u, beyond_pa}};
    tin_.triangles[u] = {{q, b, p}, {beyond_bp, t, beyond_qb}};
    relink(beyond_aq, u, t);
    relink(beyond_bp, t, u);
    some_triangle_[p] = some_triangle_[a] = some_triangle_[q] = t;
    some_triangle_[b] = u;
  }

  // Swaps the sides that were made until each pair of triangles is Delaunay (Lawson 1977).
  void settle() {
    bool changed = true;
    while (changed) {
      changed = false;
      for (auto& [c, d] : loose_) {
        if (fixed_.count(std::minmax(c, d))) continue;
        const BreaklineSide side = side_between(c, d);
        int p = -1, q = -1;
        if (side.triangle < 0 || !swappable(side, p, q)) continue;
        const auto& corner = tin_.triangles[side.triangle].corner;
        if (!in_circle(corner[0], corner[1], corner[2], q)) continue;
        flip(side);
        c = p;
        d = q;
        changed = true;
      }
    }
    loose_.clear();
  }

  const std::vector<Place>& places_;
  Tin& tin_;
  std::vector<int> some_triangle_; // one of those that touch the point
  std::set<std::pair<int, int>> fixed_;
  std::vector<std::pair<int, int>> loose_; // sides made by swapping
};

} // namespace

int follow_edges(const std::vector<Place>& places, const std::vector<std::array<int, 2>>& edges, Tin& tin) {
  Mender mender(places, tin);
  int missed = 0;
  for (const auto& [a, b] : edges) missed += !mender.follow(a, b);
  return missed;
}

} // namespace lowspot::terrain
