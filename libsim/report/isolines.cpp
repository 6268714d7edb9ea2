#include <lowspot/report/isolines.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <unordered_map>

namespace lowspot::report {
namespace {

// A crossing lies on the side between two neighbouring centres: 2 * cell for the side to the east of a
// centre, 2 * cell + 1 for the side to its north.
using Crossing = std::int64_t;

struct Segments {
  std::unordered_map<Crossing, Point> points;
  std::unordered_map<Crossing, std::array<Crossing, 2>> next; // -1: none
};

void link(Segments& all, Crossing a, Crossing b) {
  for (const auto& [from, to] : {std::pair(a, b), std::pair(b, a)}) {
    auto& ends = all.next.try_emplace(from, std::array<Crossing, 2>{-1, -1}).first->second;
    (ends[0] < 0 ? ends[0] : ends[1]) = to;
  }
}

struct Square {
  const Field& field;
  const Grid& grid;
  double level;
  int i, j;

  double value(int di, int dj) const { return field[grid.index(i + di, j + dj)]; }
  // side: 0 south, 1 east, 2 north, 3 west of the square whose corners are four centres.
  Crossing crossing(int side, Segments& all) const {
    constexpr std::array<std::array<int, 4>, 4> ends = {
        {{0, 0, 1, 0}, {1, 0, 1, 1}, {0, 1, 1, 1}, {0, 0, 0, 1}}};
    const auto& e = ends[static_cast<std::size_t>(side)];
    const bool upright = side == 1 || side == 3;
    const Crossing id = 2 * static_cast<Crossing>(grid.index(i + e[0], j + e[1])) + (upright ? 1 : 0);
    const double a = value(e[0], e[1]), b = value(e[2], e[3]);
    const double share = (level - a) / (b - a);
    all.points[id] = {grid.x(i + e[0]) + (upright ? 0 : share * grid.cell),
                      grid.y(j + e[1]) + (upright ? share * grid.cell : 0)};
    return id;
  }
};

void add_square(const Square& square, Segments& all) {
  const bool sw = square.value(0, 0) >= square.level, se = square.value(1, 0) >= square.level;
  const bool ne = square.value(1, 1) >= square.level, nw = square.value(0, 1) >= square.level;
  std::vector<int> sides;
  if (sw != se) sides.push_back(0);
  if (se != ne) sides.push_back(1);
  if (nw != ne) sides.push_back(2);
  if (sw != nw) sides.push_back(3);
  if (sides.size() == 2) link(all, square.crossing(sides[0], all), square.crossing(sides[1], all));
  if (sides.size() != 4) return;
  // A saddle: the mean tells which corners hang together.
  const double mean =
      0.25 * (square.value(0, 0) + square.value(1, 0) + square.value(1, 1) + square.value(0, 1));
  const bool joined = (mean >= square.level) == sw;
  link(all, square.crossing(0, all), square.crossing(joined ? 1 : 3, all));
  link(all, square.crossing(2, all), square.crossing(joined ? 3 : 1, all));
}

Polyline walk(Segments& all, Crossing start) {
  Polyline line;
  Crossing at = start;
  while (at >= 0) {
    line.push_back(all.points[at]);
    auto& ends = all.next[at];
    const Crossing to = ends[0] >= 0 ? ends[0] : ends[1];
    (ends[0] >= 0 ? ends[0] : ends[1]) = -1;
    if (to < 0) break;
    auto& back = all.next[to];
    (back[0] == at ? back[0] : back[1]) = -1;
    at = to;
  }
  return line;
}

} // namespace

std::vector<Polyline> isolines(const Field& field, const Mask& active, const Grid& grid, double level) {
  Segments all;
  for (int j = 0; j + 1 < grid.ny; ++j)
    for (int i = 0; i + 1 < grid.nx; ++i) {
      const bool whole = active[grid.index(i, j)] && active[grid.index(i + 1, j)] &&
                         active[grid.index(i, j + 1)] && active[grid.index(i + 1, j + 1)];
      if (whole) add_square({field, grid, level, i, j}, all);
    }
  // In a fixed order, so that the same field gives the same file. Open lines first, from their ends.
  std::vector<Crossing> order;
  for (const auto& [id, ends] : all.next) order.push_back(id);
  std::sort(order.begin(), order.end());
  std::vector<Polyline> lines;
  for (const bool closed : {false, true})
    for (const Crossing id : order) {
      const auto& ends = all.next[id];
      const int left = (ends[0] >= 0) + (ends[1] >= 0);
      if (left == (closed ? 2 : 1)) {
        Polyline line = walk(all, id);
        if (line.size() > 1) lines.push_back(std::move(line));
      }
    }
  return lines;
}

std::vector<double> round_levels(double low, double high, double unit, int most, double* step) {
  const double range = (high - low) / unit;
  std::vector<double> levels;
  if (!(range > 0) || most < 1) return levels;
  double size = std::pow(10.0, std::floor(std::log10(range / most)));
  for (const double factor : {2.0, 2.5, 2.0, 2.0}) { // 1, 2, 5, 10, 20
    if (range / size <= most) break;
    size *= factor;
  }
  if (step != nullptr) *step = size * unit;
  for (double k = std::ceil(low / unit / size); k * size * unit <= high; ++k)
    levels.push_back(k * size * unit);
  return levels;
}

} // namespace lowspot::report
