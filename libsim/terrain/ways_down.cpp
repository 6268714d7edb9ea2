#include <lowspot/terrain/ways_down.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <queue>
#include <unordered_map>
#include <utility>
#include <vector>

namespace lowspot::terrain {
namespace {

constexpr int per_cell = 9;         // places looked at along the side of a cell; odd: one in its middle
constexpr int farthest = 10;        // cells that a way may lead off
constexpr double least_fall = 1e-5; // m from cell to cell, on a way that leaves the grid

struct Place {
  int i = 0, j = 0; // in ninths of a cell
};

struct Searcher {
  const std::function<double(const Point&)>& height;
  const Grid& grid;
  const Mask& active;
  Field& elevation;
  std::unordered_map<long, double> seen = {};

  long number(const Place& at) const { // places just outside the grid among them
    return (at.j + 1L) * (grid.nx * per_cell + 2L) + at.i + 1;
  }
  bool inside(const Place& at) const {
    return at.i >= 0 && at.j >= 0 && at.i < grid.nx * per_cell && at.j < grid.ny * per_cell;
  }
  std::size_t cell_of(const Place& at) const { return grid.index(at.i / per_cell, at.j / per_cell); }
  Place middle(std::size_t cell) const {
    return {grid.column(cell) * per_cell + per_cell / 2, grid.row(cell) * per_cell + per_cell / 2};
  }
  double height_at(const Place& at) {
    const auto [found, fresh] = seen.try_emplace(number(at), 0.0);
    if (fresh)
      found->second = height(
          {grid.x0 + (at.i + 0.5) * grid.cell / per_cell, grid.y0 + (at.j + 0.5) * grid.cell / per_cell});
    return found->second;
  }

  // All neighbours stand higher; not at the limit of the grid or beside cells without ground.
  bool is_pit(std::size_t cell) const {
    const int i = grid.column(cell), j = grid.row(cell);
    if (!active[cell] || i == 0 || j == 0 || i + 1 == grid.nx || j + 1 == grid.ny) return false;
    for (const std::size_t beside : {cell - 1, cell + 1, cell - grid.nx, cell + grid.nx})
      if (!active[beside] || elevation[beside] <= elevation[cell]) return false;
    return true;
  }

  // The lowest way from the middle of a pit to a lower cell or out of the grid; empty when there is none.
  std::vector<Place> way_from(std::size_t pit) {
    const Place start = middle(pit);
    // A bottom that passes between the places that are looked at seems to rise and fall by half of what the
    // ground does from one to the next.
    double step = 0;
    for (const Place& beside : {Place{start.i - 1, start.j}, Place{start.i + 1, start.j},
                                Place{start.i, start.j - 1}, Place{start.i, start.j + 1}})
      step = std::max(step, std::abs(height_at(beside) - height_at(start)));
    const double brim = elevation[pit] + 0.5 * step;
    std::unordered_map<long, Place> came_from;
    using Front = std::pair<double, long>; // height, order of arrival: the lowest first, then the earliest
    std::priority_queue<Front, std::vector<Front>, std::greater<>> front;
    std::vector<Place> arrived{start};
    came_from[number(start)] = start;
    front.emplace(elevation[pit], 0);
    while (!front.empty()) {
      const Place at = arrived[front.top().second];
      front.pop();
      const bool out = !inside(at);
      if (out || elevation[cell_of(at)] < elevation[pit]) {
        std::vector<Place> way{at};
        for (Place one = at; one.i != start.i || one.j != start.j;) {
          one = came_from[number(one)];
          way.push_back(one);
        }
        std::reverse(way.begin(), way.end());
        return way;
      }
      for (int dj = -1; dj <= 1; ++dj)
        for (int di = -1; di <= 1; ++di) {
          const Place next{at.i + di, at.j + dj};
          if (std::max(std::abs(next.i - start.i), std::abs(next.j - start.j)) > farthest * per_cell)
            continue;
          if (inside(next) && !active[cell_of(next)]) continue;
          const double z = height_at(next);
          if (z > brim || !came_from.try_emplace(number(next), at).second) continue;
          front.emplace(z, static_cast<long>(arrived.size()));
          arrived.push_back(next);
        }
    }
    return {};
  }

  // Lowers the cells that a way crosses to an even fall along it.
  void lower(const std::vector<Place>& way, OpenedWays& opened) {
    const double from = elevation[cell_of(way.front())];
    const bool leaves = !inside(way.back());
    const double last = static_cast<double>(way.size() - 1);
    const double to = leaves ? std::min(from - least_fall * (last / per_cell + 1), height_at(way.back()))
                             : elevation[cell_of(way.back())];
    const auto lower_to = [&](std::size_t cell, double along) {
      const double z = from + (to - from) * along / last, by = elevation[cell] - z;
      if (!(by > 0)) return;
      elevation[cell] = z;
      ++opened.lowered;
      opened.deepest = std::max(opened.deepest, by);
    };
    const std::size_t pit = cell_of(way.front());
    for (std::size_t k = 0; k < way.size() && inside(way[k]);) {
      const std::size_t cell = cell_of(way[k]);
      std::size_t end = k;
      while (end < way.size() && inside(way[end]) && cell_of(way[end]) == cell) ++end;
      if (cell != pit) lower_to(cell, 0.5 * static_cast<double>(k + end - 1));
      if (end < way.size() && inside(way[end])) {
        const std::size_t next = cell_of(way[end]);
        const int i = grid.column(cell), j = grid.row(cell), i_next = grid.column(next),
                  j_next = grid.row(next);
        if (i != i_next && j != j_next) { // over a corner: through the lower of the two beside it
          const std::size_t a = grid.index(i, j_next), b = grid.index(i_next, j);
          const bool first = active[a] && (!active[b] || elevation[a] <= elevation[b]);
          if (active[a] || active[b]) lower_to(first ? a : b, static_cast<double>(end) - 0.5);
        }
      }
      k = end;
    }
  }
};

} // namespace

OpenedWays open_ways_down(const std::function<double(const Point&)>& height, const Grid& grid,
                          const Mask& active, Field& elevation) {
  Searcher searcher{height, grid, active, elevation};
  std::vector<std::pair<double, std::size_t>> pits;
  for (std::size_t c = 0; c < grid.cells(); ++c)
    if (searcher.is_pit(c)) pits.emplace_back(elevation[c], c);
  std::sort(pits.begin(), pits.end()); // the lowest first, so that what leads to it finds it as it will be
  OpenedWays opened;
  for (const auto& one : pits) {
    if (!searcher.is_pit(one.second)) continue;
    const std::vector<Place> way = searcher.way_from(one.second);
    if (way.empty()) continue;
    ++opened.pits;
    searcher.lower(way, opened);
  }
  return opened;
}

} // namespace lowspot::terrain
