#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include <lowspot/terrain/edges.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
struct Faces {
  Grid grid;
  std::vector<EdgeFace> list;
};
Faces edges_of(const site::Site& site) {
  const Grid grid = make_grid(site, site.cell);
  return {grid, find_edges(site, grid, cell_kinds(grid, site))};
}
int count(const std::vector<EdgeFace>& faces, Side compass, bool open) {
  int n = 0;
  for (const EdgeFace& face : faces) n += face.compass == compass && face.open == open;
  return n;
}
} // namespace

TEST_CASE("every face on the limit of a rectangle belongs to its side", "[edges]") {
  site::Site site = plain_site(rectangle(0, 0, 6, 4), 0.5);
  site.edges.north = site::EdgeKind::wall;
  if (GENERATE(false, true)) site.outline = {{0, 0}, {0, 4}, {6, 4}, {6, 0}}; // clockwise
  const Faces faces = edges_of(site);
  CHECK(faces.list.size() == 40);
  CHECK(count(faces.list, Side::north, false) == 12);
  CHECK(count(faces.list, Side::south, true) == 12);
  CHECK(count(faces.list, Side::west, true) == 8);
  CHECK(count(faces.list, Side::east, true) == 8);
  for (const EdgeFace& face : faces.list) CHECK(face.side == face.compass);
}

TEST_CASE("faces towards a building are no edge", "[edges]") {
  site::Site site = plain_site(rectangle(0, 0, 6, 4), 0.5);
  site.buildings.push_back({"house", rectangle(1, 2, 4, 5), {}}); // over the northern limit
  const Faces faces = edges_of(site);
  CHECK(count(faces.list, Side::north, true) == 12 - 6);
  CHECK(faces.list.size() == 34);
  site.buildings[0].outline = rectangle(2, 1, 4, 3); // in the middle
  CHECK(edges_of(site).list.size() == 40);
}

TEST_CASE("the staircase on a slanting side belongs to that side", "[edges]") {
  // The long side looks to the north-east, steeper to the north.
  site::Site site = plain_site({{0, 0}, {8, 0}, {8, 2}, {0, 6}}, 0.25);
  site.edges.otherwise = site::EdgeKind::wall;
  site.edges.north = site::EdgeKind::open;
  const Faces faces = edges_of(site);
  int wrong = 0, stairs = 0;
  for (const EdgeFace& face : faces.list) {
    const double x = faces.grid.x(faces.grid.column(face.cell)), y = faces.grid.y(faces.grid.row(face.cell));
    if (y < 6 - 0.5 * x - 0.6 || x > 7.5) continue;
    if (x < 0.3) continue;
    ++stairs;
    wrong += face.compass != Side::north || !face.open;
  }
  CHECK(stairs > 30);
  CHECK(wrong == 0);
}

TEST_CASE("parts override the compass along the shorter way between their ends", "[edges]") {
  site::Site site = plain_site(rectangle(0, 0, 6, 4), 0.5);
  site.edges.parts.push_back({{2, 0}, {4, 0}, site::EdgeKind::wall});
  CHECK(count(edges_of(site).list, Side::south, false) == 4);
  // Round the north-east corner, given backwards.
  site.edges.parts = {{{5, 4}, {6, 3}, site::EdgeKind::wall}};
  Faces faces = edges_of(site);
  CHECK(count(faces.list, Side::north, false) == 2);
  CHECK(count(faces.list, Side::east, false) == 2);
  // Across the first corner of the outline, where the count along it begins anew.
  site.edges.parts = {{{0, 1}, {1.5, 0}, site::EdgeKind::wall}};
  faces = edges_of(site);
  CHECK(count(faces.list, Side::west, false) == 2);
  CHECK(count(faces.list, Side::south, false) == 3);
  // A later part wins.
  site.edges.parts.push_back({{0, 0}, {1, 0}, site::EdgeKind::open});
  CHECK(count(edges_of(site).list, Side::south, false) == 1);
}

// A way out of 0.3 m in a wall: where no face had its middle in it the yard was closed.
TEST_CASE("an open part narrower than a cell opens the face nearest to it", "[edges]") {
  for (const double cell : {0.1, 0.5, 1.0, 2.0})
    for (const double from : {1.05, 2.1, 2.6, 3.95, 5.5}) {
      site::Site site = plain_site(rectangle(0, 0, 8, 4), cell);
      site.edges.otherwise = site::EdgeKind::wall;
      site.edges.parts = {{{from, 0}, {from + 0.3, 0}, site::EdgeKind::open}};
      const Faces faces = edges_of(site);
      double nearest = 1e9;
      int open = 0;
      for (const EdgeFace& face : faces.list) {
        if (!face.open) continue;
        ++open;
        CHECK(face.side == Side::south);
        const double x = faces.grid.x(faces.grid.column(static_cast<std::size_t>(face.cell)));
        nearest = std::min(nearest, std::abs(x - from - 0.15));
      }
      CAPTURE(cell, from);
      CHECK((cell < 0.3 ? open == 3 || open == 4 : open == 1));
      CHECK(nearest <= cell / 2 + 1e-9);
    }
  // What is said later holds.
  site::Site site = plain_site(rectangle(0, 0, 8, 4), 1);
  site.edges.parts = {{{2.1, 0}, {2.3, 0}, site::EdgeKind::open}, {{0, 0}, {8, 0}, site::EdgeKind::wall}};
  CHECK(count(edges_of(site).list, Side::south, true) == 0);
  // Behind a building there is nothing to open.
  site.edges.otherwise = site::EdgeKind::wall;
  site.edges.parts.pop_back();
  site.buildings.push_back({"house", rectangle(0, 0, 5, 2), {}});
  CHECK(count(edges_of(site).list, Side::south, true) == 0);
}
