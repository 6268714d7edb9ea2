#include <lowspot/yard/crossing.hpp>

#include <algorithm>
#include <cmath>
#include <map>

#include <lowspot/site/places.hpp>

namespace lowspot::yard {
namespace {

class Faces {
public:
  Faces(const Grid& grid, const Mask& active) : grid_(grid), active_(active) {}

  // A piece of the line that stays within one cell, in cells from the south-west corner of the grid.
  void add(const Point& from, const Point& to) {
    const Point middle{(from.x + to.x) / 2, (from.y + to.y) / 2};
    const double across = std::floor(middle.x), up = std::floor(middle.y);
    if (!(across >= -1 && up >= -1 && across <= grid_.nx && up <= grid_.ny)) return;
    const int i = static_cast<int>(across), j = static_cast<int>(up);
    const double east = share(i, j, 1, 0, middle.x - across), north = share(i, j, 0, 1, middle.y - up);
    add_x(i, j, (1 - east) * (to.y - from.y)); // going north, the right hand is east
    add_x(i + 1, j, east * (to.y - from.y));
    add_y(i, j, (1 - north) * (from.x - to.x)); // going east, it is south
    add_y(i, j + 1, north * (from.x - to.x));
  }

  surface::FaceSet all() const {
    constexpr double least = 1e-9; // of a face: round-off
    surface::FaceSet faces;
    for (const auto& [face, weight] : x_)
      if (std::abs(weight) > least) {
        faces.x_faces.push_back(static_cast<int>(face));
        faces.x_weights.push_back(weight);
      }
    for (const auto& [face, weight] : y_)
      if (std::abs(weight) > least) {
        faces.y_faces.push_back(static_cast<int>(face));
        faces.y_weights.push_back(weight);
      }
    return faces;
  }

private:
  bool active(int i, int j) const { return grid_.inside(i, j) && active_[grid_.index(i, j)] != 0; }

  // How much the farther of two opposite faces of a cell counts at `place` of the way to it.
  double share(int i, int j, int di, int dj, double place) const {
    if (!active(i, j)) {
      const bool before = active(i - di, j - dj), beyond = active(i + di, j + dj);
      if (before != beyond) return beyond ? 1 : 0;
    }
    return place;
  }

  void add_x(int i, int j, double weight) {
    if (i >= 0 && i <= grid_.nx && j >= 0 && j < grid_.ny) x_[grid_.x_face(i, j)] += weight;
  }
  void add_y(int i, int j, double weight) {
    if (i >= 0 && i < grid_.nx && j >= 0 && j <= grid_.ny) y_[grid_.y_face(i, j)] += weight;
  }

  const Grid& grid_;
  const Mask& active_;
  std::map<std::size_t, double> x_, y_;
};

// Where, from 0 to 1, what goes evenly from one figure to another passes whole numbers.
void note_whole(double from, double to, std::vector<double>& passed) {
  const double low = std::min(from, to), high = std::max(from, to);
  for (double whole = std::floor(low) + 1; whole < high; ++whole)
    passed.push_back((whole - from) / (to - from));
}

Point beyond(const Point& end, const Point& before, double by) {
  const double whole = distance(before, end);
  if (!(whole > 0)) return end;
  return {end.x + (end.x - before.x) / whole * by, end.y + (end.y - before.y) / whole * by};
}

} // namespace

surface::FaceSet faces_crossed(const Grid& grid, const Mask& active, const Polyline& line) {
  Faces faces(grid, active);
  const auto in_cells = [&](const Point& point) {
    return Point{(point.x - grid.x0) / grid.cell, (point.y - grid.y0) / grid.cell};
  };
  std::vector<double> passed;
  for (std::size_t k = 1; k < line.size(); ++k) {
    const Point a = in_cells(line[k - 1]), b = in_cells(line[k]);
    passed.assign({0, 1});
    note_whole(a.x, b.x, passed);
    note_whole(a.y, b.y, passed);
    std::sort(passed.begin(), passed.end());
    const auto at = [&](double part) { return Point{a.x + part * (b.x - a.x), a.y + part * (b.y - a.y)}; };
    for (std::size_t p = 1; p < passed.size(); ++p) faces.add(at(passed[p - 1]), at(passed[p]));
  }
  return faces.all();
}

Polyline over_the_limit(const site::Site& site, Polyline line) {
  if (line.size() < 2) return line;
  Polyline ring = site.outline;
  ring.push_back(ring.front());
  const double by = 2 * site.cell;
  const Point first = line.front(), last = line.back();
  const auto leads_out = [&](const Point& end, const Point& before) {
    return distance_to(ring, end) <= site::on_the_limit &&
           !contains(site.outline, beyond(end, before, 1e-3 * site.cell));
  };
  if (leads_out(first, line[1])) line.insert(line.begin(), beyond(first, line[1], by));
  const Point before_last = line[line.size() - 2];
  if (leads_out(last, before_last)) line.push_back(beyond(last, before_last, by));
  return line;
}

} // namespace lowspot::yard
