#include "catch.hpp"

#include <lowspot/surface/route_graph.hpp>

#include "yards.hpp"

using namespace lowspot::surface;
using namespace yards;

TEST_CASE("water is handed to lower cells only, which come later", "[route_graph]") {
  Terrain terrain = rectangle(12, 9, 0.5, 0.1, [](double x, double y) {
    return 0.02 * x + 0.05 * std::sin(2 * x) * std::cos(1.7 * y);
  });
  open_side(terrain, 0);
  const RouteGraph graph(terrain);
  REQUIRE(graph.cell.size() == 108);
  int pits = 0;
  for (int s = 0; s < 108; ++s) {
    CHECK(graph.slot[graph.cell[s]] == s);
    if (s > 0) CHECK(graph.bed[s] <= graph.bed[s - 1]);
    for (int k = graph.first_link[s]; k < graph.first_link[s + 1]; ++k)
      if (graph.links[k].to >= 0) {
        CHECK(graph.links[k].to > s);
        CHECK(graph.bed[graph.links[k].to] < graph.bed[s]);
      }
    pits += graph.first_link[s] == graph.first_link[s + 1];
  }
  int leaves = 0;
  for (const auto& depression : graph.tree.depressions) leaves += depression.left < 0;
  CHECK(pits == leaves);
}

TEST_CASE("a level patch leads to its way down, step by step", "[route_graph]") {
  // Level but for the open west edge and one block that water has to go round.
  Terrain terrain = rectangle(6, 5, 1, 0.1, [](double, double) { return 1.0; });
  terrain.active[terrain.grid.index(3, 2)] = 0;
  terrain.open_faces = {{static_cast<int>(terrain.grid.index(0, 2)), 0}};
  const RouteGraph graph(terrain);
  CHECK(graph.tree.depressions.empty());
  for (int s = 0; s < static_cast<int>(graph.cell.size()); ++s) {
    int at = s, steps = 0;
    while (graph.links[graph.first_link[at]].to >= 0 && steps < 30) {
      at = graph.links[graph.first_link[at]].to;
      ++steps;
    }
    CHECK(graph.cell[at] == static_cast<int>(terrain.grid.index(0, 2)));
    CHECK(steps <= 9);
  }
}

TEST_CASE("walls and rims at the edge are no way down", "[route_graph]") {
  // Falls to the west; a wall between columns 2 and 3 stands higher than both.
  Terrain terrain = rectangle(6, 1, 1, 0.1, [](double x, double) { return 0.1 * x; });
  open_side(terrain, 0);
  terrain.crest_x[3] = 0.5;
  const RouteGraph graph(terrain);
  REQUIRE(graph.tree.depressions.size() == 1);
  CHECK_THAT(graph.tree.depressions[0].spill_level, WithinAbs(0.5 - 0.05, 1e-12));
  const int above = graph.slot[3];
  CHECK(graph.first_link[above] == graph.first_link[above + 1]);
  CHECK(graph.home[above] == 0);
  CHECK(graph.home[graph.slot[2]] == -1);
}

TEST_CASE("leaves of a depression are numbered in one run", "[route_graph]") {
  Terrain terrain = rectangle(30, 20, 1, 0.1, [](double x, double y) {
    return 0.3 * std::sin(1.3 * x) * std::sin(0.9 * y) + 0.1 * std::sin(3.1 * x + y);
  });
  open_side(terrain, 1);
  const RouteGraph graph(terrain);
  const auto& all = graph.tree.depressions;
  REQUIRE(all.size() > 5);
  for (std::size_t d = 0; d < all.size(); ++d) {
    if (all[d].left < 0) {
      CHECK(graph.leaf_end[d] == graph.leaf_begin[d] + 1);
      continue;
    }
    CHECK(graph.leaf_begin[d] == graph.leaf_begin[all[d].left]);
    CHECK(graph.leaf_end[all[d].left] == graph.leaf_begin[all[d].right]);
    CHECK(graph.leaf_end[d] == graph.leaf_end[all[d].right]);
  }
}

TEST_CASE("a stream runs along the axis that its way mostly follows", "[route_graph]") {
  // Cell by cell down the bottom of a trough that runs `turn` along y for each along x.
  for (const double turn : {0.0, 0.3, 0.6, 1.0, 1.8}) {
    const double length = std::hypot(1, turn);
    Terrain terrain = rectangle(60, 60, 1, 0.1, [&](double x, double y) {
      return 200 - (x + turn * y) / length + 3 * std::abs(y - 2 - turn * (x - 2)) / length;
    });
    for (const int side : {1, 3}) open_side(terrain, side);
    std::vector<int> way;
    for (int i = 2, j = 2; i < 60 && j < 60;) {
      way.push_back(static_cast<int>(terrain.grid.index(i, j)));
      terrain.elevation[way.back()] = 100 - 0.5 * static_cast<double>(way.size());
      (j + 0.5 - 2 < turn * (i + 0.5 - 2) ? j : i) += 1;
    }
    const RouteGraph graph(terrain);
    CAPTURE(turn);
    // Along all of it, not only where it is looked at far enough.
    for (std::size_t k = 20; k < way.size(); ++k) {
      const Stream& stream = graph.stream[graph.slot[way[k]]];
      CHECK(graph.descent[graph.slot[way[k - 1]]] == graph.slot[way[k]]);
      CHECK(graph.ascent[graph.slot[way[k]]] == graph.slot[way[k - 1]]);
      CHECK(static_cast<int>(stream.axis) == (turn < 0.8 ? 0 : turn > 1.25 ? 2 : -1));
      if (stream.axis < 0) continue;
      const double cosine = (stream.axis == 0 ? 1 : turn) / length;
      CHECK_THAT(static_cast<double>(stream.aslant), WithinRel(std::pow(cosine, 1.5), 0.06));
      if (k + 20 < way.size()) CHECK(stream.through);
    }
  }
}

TEST_CASE("a cell that nothing comes to and that leads to no other has no stream", "[route_graph]") {
  Terrain terrain = rectangle(1, 1, 1, 0.1, [](double, double) { return 1.0; });
  open_side(terrain, 1);
  const RouteGraph graph(terrain);
  CHECK(static_cast<int>(graph.stream[0].axis) == -1);
  CHECK(graph.stream[0].aslant == 1);
}
