#include "catch.hpp"

#include <cmath>
#include <random>
#include <vector>

#include <lowspot/terrain/walls.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
// Cells reached from one cell without passing a walled face.
Mask reached(const Grid& grid, const WallFaces& faces, int start) {
  Mask walled_x(grid.x_faces(), 0), walled_y(grid.y_faces(), 0), seen(grid.cells(), 0);
  for (std::size_t f : faces.x_faces) walled_x[f] = 1;
  for (std::size_t f : faces.y_faces) walled_y[f] = 1;
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
  CHECK(faces.x_faces == std::vector<std::size_t>{grid.x_face(3, 2), grid.x_face(3, 3), grid.x_face(3, 4)});
  CHECK(faces.y_faces.empty());
  const WallFaces flat = faces_on(grid, {{2, 6}, {4, 6}});
  CHECK(flat.y_faces == std::vector<std::size_t>{grid.y_face(2, 6), grid.y_face(3, 6)});
}

TEST_CASE("the crest is the wall's height over the higher ground beside it", "[walls]") {
  site::Site site = plain_site(rectangle(0, 0, 4, 1), 1);
  site.walls.push_back({"edging", {{2, 0}, {2, 1}}, 0.1});
  site.walls.push_back({"low", {{2, 0}, {2, 1}}, 0.02});
  Ground ground = bare_ground(4, 1, 1, [](int i, int) { return 5 + 0.25 * i; });
  raise_walls(site, ground);
  CHECK_THAT(ground.crest_x[ground.grid.x_face(2, 0)], WithinAbs(5.6, 1e-12));
  CHECK(ground.crest_x[ground.grid.x_face(1, 0)] == -std::numeric_limits<double>::infinity());
}
