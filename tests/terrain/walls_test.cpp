#include "catch.hpp"

#include <cmath>
#include <functional>
#include <limits>
#include <random>
#include <vector>

#include <lowspot/terrain/low_spots.hpp>
#include <lowspot/terrain/walls.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
constexpr double none = -std::numeric_limits<double>::infinity();

std::vector<std::size_t> faces_of(const std::vector<FaceCrossing>& crossings) {
  std::vector<std::size_t> faces;
  for (const FaceCrossing& crossing : crossings) faces.push_back(crossing.face);
  return faces;
}

// Cells reached from one cell without passing a walled face.
Mask reached(const Grid& grid, const WallFaces& faces, int start) {
  Mask walled_x(grid.x_faces(), 0), walled_y(grid.y_faces(), 0), seen(grid.cells(), 0);
  for (const FaceCrossing& crossing : faces.x) walled_x[crossing.face] = 1;
  for (const FaceCrossing& crossing : faces.y) walled_y[crossing.face] = 1;
  std::vector<int> open = {start};
  seen[start] = 1;
  while (!open.empty()) {
    const int c = open.back(), i = grid.column(c), j = grid.row(c);
    open.pop_back();
    auto go = [&](bool can, int other) {
      if (!can || seen[other]) return;
      seen[other] = 1;
      open.push_back(other);
    };
    go(i > 0 && !walled_x[grid.x_face(i, j)], c - 1);
    go(i + 1 < grid.nx && !walled_x[grid.x_face(i + 1, j)], c + 1);
    go(j > 0 && !walled_y[grid.y_face(i, j)], c - grid.nx);
    go(j + 1 < grid.ny && !walled_y[grid.y_face(i, j + 1)], c + grid.nx);
  }
  return seen;
}
} // namespace

TEST_CASE("a closed wall parts exactly the cells whose centres it encloses", "[walls]") {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> shift(-0.5, 0.5), angle(0, 6.28), size(3, 8);
  for (int trial = 0; trial < 200; ++trial) {
    const Grid grid{30, 28, 0.7, 100, -50};
    const double turn = trial == 0 ? 0 : trial == 1 ? 0.7853981633974483 : angle(random);
    // The first rings pass through the very centres and corners of cells.
    const double half = trial < 2 ? 4.9 : size(random) * 0.9;
    const Point middle{grid.x(14) + (trial < 2 ? 0 : shift(random)),
                       grid.y(13) + (trial < 2 ? 0 : shift(random))};
    Polygon ring;
    for (int corner = 0; corner < 4; ++corner) {
      const double a = turn + (corner + 0.5) * 1.5707963267948966;
      ring.push_back({middle.x + half * std::cos(a), middle.y + half * std::sin(a)});
    }
    Polyline line = ring;
    line.push_back(ring[0]);
    const Mask seen = reached(grid, faces_on(grid, line), static_cast<int>(grid.index(14, 13)));
    int wrong = 0;
    for (std::size_t c = 0; c < grid.cells(); ++c) {
      const Point centre{grid.x(grid.column(c)), grid.y(grid.row(c))};
      if (distance_to(line, centre) < 1e-5) continue; // on the wall itself: either side will do
      wrong += seen[c] != (contains(ring, centre) ? 1 : 0);
    }
    CHECK(wrong == 0);
  }
}

TEST_CASE("a diagonal wall from limit to limit leaves no way through", "[walls]") {
  const Grid grid{20, 20, 0.5, 0, 0};
  const Polyline line =
      GENERATE(Polyline{{0, 0}, {10, 10}}, Polyline{{0, 10}, {10, 0}}, Polyline{{0, 1.25}, {10, 8.75}},
               Polyline{{0.25, 0}, {9.75, 10}}, Polyline{{0, 3}, {5, 5}, {5, 8}, {10, 8}});
  const WallFaces faces = faces_on(grid, line);
  const Mask above = reached(grid, faces, static_cast<int>(grid.index(0, 19)));
  const Mask below = reached(grid, faces, static_cast<int>(grid.index(19, 0)));
  const bool falling = line.front().y > line.back().y;
  const Mask corner = reached(grid, faces, static_cast<int>(grid.index(0, 0)));
  const Mask far = reached(grid, faces, static_cast<int>(grid.index(19, 19)));
  if (falling)
    CHECK_FALSE(corner[grid.index(19, 19)]);
  else
    CHECK_FALSE(above[grid.index(19, 0)]);
  int both = 0;
  for (std::size_t c = 0; c < grid.cells(); ++c) both += falling ? corner[c] && far[c] : above[c] && below[c];
  CHECK(both == 0);
}

TEST_CASE("a wall along cell sides stands on just these faces", "[walls]") {
  const Grid grid{8, 8, 1, 0, 0};
  const WallFaces faces = faces_on(grid, {{3, 2}, {3, 5}});
  CHECK(faces_of(faces.x) ==
        std::vector<std::size_t>{grid.x_face(3, 2), grid.x_face(3, 3), grid.x_face(3, 4)});
  CHECK(faces.y.empty());
  const WallFaces flat = faces_on(grid, {{2, 6}, {4, 6}});
  CHECK(faces_of(flat.y) == std::vector<std::size_t>{grid.y_face(2, 6), grid.y_face(3, 6)});
}

namespace {
// Worst error of the crests of a wall against the ground at its line, and their mean error [m].
struct CrestErrors {
  double worst = 0, mean = 0;
};

CrestErrors crest_errors(double cell, const Point& from, const Point& to,
                         const std::function<double(double, double)>& z) {
  constexpr double height = 0.1;
  const int n = static_cast<int>(std::lround(12 / cell));
  site::Site site = plain_site(rectangle(0, 0, 12, 12), cell);
  site.walls.push_back({"curb", {from, to}, height});
  Ground ground =
      bare_ground(n, n, cell, [&](int i, int j) { return z((i + 0.5) * cell, (j + 0.5) * cell); });
  raise_walls(site, ground);
  const Grid& grid = ground.grid;
  CrestErrors errors;
  int count = 0;
  const auto judge = [&](double crest, double x, double y) {
    const double error = crest - (z(x, y) + height);
    errors.worst = std::max(errors.worst, std::abs(error));
    errors.mean += error;
    ++count;
  };
  const double rise = (to.y - from.y) / (to.x - from.x);
  for (int j = 0; j < n; ++j)
    for (int i = 0; i <= n; ++i)
      if (std::isfinite(ground.crest_x[grid.x_face(i, j)]))
        judge(ground.crest_x[grid.x_face(i, j)], from.x + (grid.y(j) - from.y) / rise, grid.y(j));
  for (int j = 0; j <= n; ++j)
    for (int i = 0; i < n; ++i)
      if (std::isfinite(ground.crest_y[grid.y_face(i, j)]))
        judge(ground.crest_y[grid.y_face(i, j)], grid.x(i), from.y + (grid.x(i) - from.x) * rise);
  REQUIRE(count > 8 / cell);
  errors.mean /= count;
  return errors;
}
} // namespace

TEST_CASE("on a slope a wall stands at its height over the ground at its line, however the line lies",
          "[walls]") {
  const auto slope = [](double x, double y) { return 5 + 0.08 * x - 0.03 * y; };
  for (const double cell : {0.6, 0.3, 0.15})
    for (const Point& to : {Point{10.7, 8.13}, Point{3.4, 10.9}, Point{2.031, 11}}) {
      const CrestErrors errors = crest_errors(cell, {2.03, 1.41}, to, slope);
      CHECK(errors.worst < 1e-6); // the hair by which a line is moved off the centres
    }
  const auto bowl = [](double x, double y) { return 0.01 * (x * x + 2 * y * y) - 0.004 * x * y; };
  const CrestErrors coarse = crest_errors(0.4, {2.03, 1.41}, {10.7, 8.13}, bowl);
  const CrestErrors fine = crest_errors(0.1, {2.03, 1.41}, {10.7, 8.13}, bowl);
  CHECK(std::log2(coarse.worst / fine.worst) / 2 > 1.7); // the order
  CHECK(std::abs(fine.mean) < 2e-4);
}

TEST_CASE("water behind a wall across a slope overtops it at its height over the ground at its foot",
          "[walls]") {
  // It stands as a wedge up the slope: h^2 / 2 s for each metre of wall.
  constexpr double slope = 0.04, height = 0.12, width = 6, foot = 7.13;
  const double level = 1 + slope * foot + height, volume = height * height / (2 * slope) * width;
  double before = 1;
  for (const double cell : {0.5, 0.25, 0.125, 0.0625}) {
    const int nx = static_cast<int>(12 / cell), ny = static_cast<int>(width / cell);
    site::Site site = plain_site(rectangle(0, 0, 12, width), cell);
    site.walls.push_back({"curb", {{foot, 0}, {foot, width}}, height});
    Ground ground = bare_ground(nx, ny, cell, [&](int i, int) { return 1 + slope * (i + 0.5) * cell; });
    raise_walls(site, ground);
    open_side(ground, Side::west);
    const auto spots = find_low_spots(ground);
    REQUIRE(spots.size() == 1);
    CHECK_THAT(spots[0].spill_level, WithinAbs(level, 1e-8));
    const double off = std::abs(spots[0].volume / volume - 1);
    // A wall inside a cell: the wedge ends at that cell's side and not at the wall.
    CHECK(off < 1.02 * cell / (height / slope));
    before = off;
  }
  CHECK(before < 0.03);
}

TEST_CASE("beside a step the crest is the wall's height over the higher ground, carried on to the wall",
          "[walls]") {
  site::Site site = plain_site(rectangle(0, 0, 8, 1), 1);
  site.walls.push_back({"edging", {{4, 0}, {4, 1}}, 0.1});
  site.walls.push_back({"low", {{4, 0}, {4, 1}}, 0.02});
  Ground ground = bare_ground(8, 1, 1, [](int i, int) { return i < 4 ? 5 + 0.25 * i : 7 + 0.5 * (i - 4); });
  raise_walls(site, ground);
  CHECK_THAT(ground.crest_x[ground.grid.x_face(4, 0)], WithinAbs(6.75 + 0.1, 1e-6));
  CHECK(ground.crest_x[ground.grid.x_face(3, 0)] == none);
  // Off a single cell before a step nothing can be carried on; nor off ground that bends.
  ground = bare_ground(8, 1, 1, [](int i, int) { return i < 4 ? 5.0 : i == 4 ? 7 : 6; });
  raise_walls(site, ground);
  CHECK_THAT(ground.crest_x[ground.grid.x_face(4, 0)], WithinAbs(7.1, 1e-12));
}
