#include "catch.hpp"

#include <lowspot/surface/route_pool_step.hpp>
#include <lowspot/surface/workspace.hpp>

#include "yards.hpp"

using namespace lowspot::surface;
using namespace yards;

namespace {

// Head over the rim of a pool behind a shelf that rises a hair toward an open edge, at 1e-3 m2/s with n =
// 0.1.
double head_behind(double shelf, double cell) {
  Terrain terrain = rectangle(static_cast<int>(std::lround(10 / cell)), 1, cell, 0.1,
                              [&](double x, double) { return x > 10 - shelf ? 0.2 + 1e-6 * x : 0.0; });
  open_side(terrain, 1);
  const RouteGraph graph(terrain);
  RoutedWater water(graph);
  RoutedPools pools(graph, water);
  RoutedFaces faces(graph, 1);
  RoutedPool& pool = pools.pool(pools.active.front());
  const double given = 1e-3 * 20 / cell; // m over a cell in each step
  for (int k = 0; k < 4000; ++k) {
    pool.inflow = given;
    std::fill(water.done.begin(), water.done.end(), char{0});
    step_pool(pools.active.front(), 20, graph, pools, water, faces);
  }
  CHECK_THAT(pool.outflow, WithinRel(given, 1e-6));
  return pool.level - pool.rim.front().sill;
}

// A round bowl in a rough slope, its rim of all heights, falling away outside.
Terrain bowl(double vegetation) {
  Terrain terrain = rectangle(15, 15, 0.25, 0.2, [](double x, double y) {
    const double away = std::hypot(x - 1.9, y - 1.85);
    const double rough = 0.002 * std::sin(7.1 * x + 3.3 * y) + 0.0015 * std::cos(5.7 * y - 2.9 * x);
    return rough + (away < 1.2 ? 0.03 - 0.02 * (1.2 - away) : 0.03 - 0.06 * (away - 1.2));
  });
  for (int side = 0; side < 4; ++side) open_side(terrain, side);
  terrain.manning_n_deep.assign(terrain.manning_n.size(), 0.05);
  terrain.vegetation_height.assign(terrain.manning_n.size(), vegetation);
  return terrain;
}

struct Held {
  explicit Held(double vegetation = 0) : terrain(bowl(vegetation)) {}
  Terrain terrain;
  RouteGraph graph{terrain};
  RoutedWater water{graph};
  RoutedPools pools{graph, water};
};

// What spills over the faces of one cell [m/s], by bisection in double precision: the level of the cell is
// that of the pool less the fall on the way, over each face of which q n = depth^(5/3) (fall / dx)^(1/2),
// with the n of the cell at the depth that it keeps.
double passes(const RouteGraph& graph, const std::vector<RimFace>& faces, const std::vector<double>& beyond,
              double level) {
  const double dx = graph.grid.cell;
  std::vector<double> way;
  const double deepest = (level - faces.front().sill) / 0.3;
  for (int s = faces.front().from; graph.descent[s] >= 0 && level - graph.bed[s] <= deepest;
       s = graph.descent[s])
    way.push_back(graph.bed[s]);
  const auto over = [&](double here) { // q n
    std::array<double, 4> slope = {};
    for (std::size_t k = 0; k < faces.size(); ++k)
      if (here > faces[k].sill) slope[faces[k].link.side] = std::max((here - beyond[k]) / dx, 0.0);
    const double steepest = std::hypot(std::max(slope[0], slope[1]), std::max(slope[2], slope[3]));
    double sum = 0;
    for (const RimFace& face : faces)
      if (slope[face.link.side] > 0)
        sum += std::pow(here - face.sill, 5.0 / 3) * slope[face.link.side] / std::sqrt(steepest);
    return sum;
  };
  const auto arrives = [&](double q) { // level
    double here = level;
    for (std::size_t j = way.size(); j-- > 0;) {
      if (!(here > way[j])) return -1.0;
      here -= q * q * dx / std::pow(here - way[j], 10.0 / 3);
    }
    return here;
  };
  double low = faces.front().sill, high = level;
  for (int k = 0; k < 100; ++k) {
    const double middle = 0.5 * (low + high);
    (arrives(over(middle)) < middle ? high : low) = middle;
  }
  const int from = faces.front().from;
  const double n = std::sqrt(roughness_at(low - faces.front().sill, graph.roughness_thin[from],
                                          graph.log_ratio[from], graph.vegetation[from]));
  return over(low) / (n * dx);
}

} // namespace

TEST_CASE("a shallow way to the rim takes a share of the head", "[route_rim]") {
  constexpr double slope = 5e-3, carried = 1e-4; // the slope at which water leaves over a flat edge; q n
  // Two cells of shelf: normal depth at the edge and the fall over two faces at little more depth.
  const double normal = std::pow(carried / std::sqrt(slope), 0.6);
  CHECK_THAT(head_behind(0.2, 0.1), WithinAbs(normal + 2 * 0.1 * slope, 2e-4));
  // Two metres: dh/dx = (q n)^2 / h^(10/3), so that h^(13/3) grows evenly.
  const double exact = std::pow(std::pow(normal, 13.0 / 3) + 13.0 / 3 * carried * carried * 2, 3.0 / 13);
  const double coarse = head_behind(2, 0.2) - exact, fine = head_behind(2, 0.1) - exact;
  CHECK_THAT(coarse, WithinAbs(0, 0.01 * exact));
  CHECK_THAT(fine, WithinAbs(0, 0.6 * std::abs(coarse))); // first order
}

TEST_CASE("the faces of a cell share the way to it", "[route_rim]") {
  const Held held(GENERATE(0.0, 0.015));
  int several = 0, checked = 0;
  for (const int d : held.pools.active) {
    const RoutedPool& pool = held.pools.pool(d);
    if (pool.rim.empty()) continue;
    std::vector<RimBlock> rim = rim_blocks(held.graph, pool.rim);
    for (const double head : {0.02, 0.004, 0.0005}) {
      const double level = pool.rim.front().sill + head;
      for (RimBlock& block : rim)
        for (int side = 0; side < 4; ++side)
          for (int l = 0; l < rim_lanes; ++l) {
            const int face = block.face[side][l];
            if (face < 0 || pool.rim[face].link.to < 0) continue;
            // Beyond stands a little water.
            block.drop[side][l] =
                static_cast<float>(block.sill[l] - 0.001 - held.graph.bed[pool.rim[face].link.to]);
          }
      const Spill spill = spill_over(held.graph, rim, level);
      double sum = 0;
      for (std::size_t b = 0; b < spill.blocks; ++b)
        for (int l = 0; l < rim_lanes; ++l) {
          if (rim[b].from[l] < 0 || rim[b].sill[l] >= level) continue;
          std::vector<RimFace> faces;
          std::vector<double> beyond;
          double flow = 0;
          for (const RimFace& face : pool.rim)
            if (face.from == rim[b].from[l]) {
              faces.push_back(face);
              beyond.push_back(face.link.to < 0 ? 0.0 : held.graph.bed[face.link.to] + 0.001);
            }
          for (int side = 0; side < 4; ++side) flow += static_cast<double>(rim[b].flow[side][l]);
          sum += flow;
          if (std::any_of(faces.begin(), faces.end(), [](const RimFace& face) { return face.link.to < 0; }))
            continue;
          const double exact = passes(held.graph, faces, beyond, level);
          CHECK_THAT(flow, WithinAbs(exact, 3e-3 * exact + 1e-9));
          several += faces.size() > 1;
          ++checked;
        }
      CHECK_THAT(spill.flow, WithinRel(sum, 1e-6));
    }
  }
  CHECK(checked > 30);
  CHECK(several > 10);
}

TEST_CASE("more spills over a rim the higher the pool stands", "[route_rim]") {
  const Held held;
  for (const int d : held.pools.active) {
    const RoutedPool& pool = held.pools.pool(d);
    if (pool.rim.empty()) continue;
    std::vector<RimBlock> rim = rim_blocks(held.graph, pool.rim);
    const double sill = pool.rim.front().sill;
    CHECK(spill_over(held.graph, rim, sill).flow == 0);
    double before = 0;
    for (double head = 1e-4; head < 0.05; head *= 1.1) {
      const double flow = spill_over(held.graph, rim, sill + head).flow;
      CHECK(flow > before);
      before = flow;
    }
  }
}

TEST_CASE("a stream stands above the pool it comes into, on its margin", "[route_rim]") {
  // A shelf of 2 m that falls a hair to deep water, which stands 20 mm over it; q n = 1e-4 m2/s.
  const auto rise = [](double cell) {
    const Terrain terrain = rectangle(static_cast<int>(std::lround(4 / cell)), 1, cell, 0.1,
                                      [](double x, double) { return x > 2 ? 0.2 + 1e-7 * x : 0.0; });
    const RouteGraph graph(terrain);
    const int far = graph.slot[terrain.grid.nx - 1];
    const double level = graph.bed[graph.slot[std::lround(2 / cell)]] + 0.02;
    CHECK(level_on_margin(graph, far, level, 1e-9) == level);
    return level_on_margin(graph, far, level, 1e-3) - graph.bed[far];
  };
  // dh/dx = (q n)^2 / h^(10/3), so that h^(13/3) grows evenly.
  const double exact = std::pow(std::pow(0.02, 13.0 / 3) + 13.0 / 3 * 1e-8 * 2, 3.0 / 13);
  const double coarse = rise(0.2) - exact, fine = rise(0.1) - exact;
  CHECK_THAT(coarse, WithinAbs(0, 0.02 * exact));
  CHECK_THAT(fine, WithinAbs(0, 0.6 * std::abs(coarse))); // first order
}

TEST_CASE("where grass bends under a stream, it stands lower above the pool", "[route_rim]") {
  // The same shelf under grass 50 mm high; the exact profile in steps of a millimetre.
  constexpr double thin = 0.15, deep = 0.035, plants = 0.05, shelf = 2;
  for (const double discharge : {2e-3, 0.01, 0.05}) {
    const auto rise = [&](double cell) {
      Terrain terrain = rectangle(static_cast<int>(std::lround(2 * shelf / cell)), 1, cell, thin,
                                  [=](double x, double) { return x > shelf ? 0.2 + 1e-7 * x : 0.0; });
      terrain.manning_n_deep.assign(terrain.manning_n.size(), deep);
      terrain.vegetation_height.assign(terrain.manning_n.size(), plants);
      const RouteGraph graph(terrain);
      const int far = graph.slot[terrain.grid.nx - 1];
      const double level = graph.bed[graph.slot[std::lround(shelf / cell)]] + 0.02;
      return level_on_margin(graph, far, level, discharge) - graph.bed[far];
    };
    double exact = 0.02;
    for (int k = 0; k < 2000; ++k) {
      const double h = exact, n_squared = roughness_at(h, thin * thin, 2 * std::log(deep / thin), plants);
      exact += 1e-3 * discharge * discharge * n_squared / std::pow(h, 10.0 / 3);
    }
    CAPTURE(discharge, exact);
    const double coarse = rise(0.1) - exact, fine = rise(0.05) - exact;
    CHECK_THAT(coarse, WithinAbs(0, 0.05 * exact));
    CHECK_THAT(fine, WithinAbs(0, 0.7 * std::abs(coarse) + 1e-4)); // first order
  }
}
