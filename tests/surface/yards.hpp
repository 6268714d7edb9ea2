// Grounds for the tests of surface water.
#pragma once
#include <cmath>
#include <functional>
#include <limits>
#include <random>

#include <lowspot/surface/flow.hpp>
#include <lowspot/surface/tags.hpp>

namespace yards {

using lowspot::Field;
using lowspot::surface::Terrain;

// A rectangle of nx by ny active cells, walled in, bare of vegetation, its bed given at the cell centres.
inline Terrain rectangle(int nx, int ny, double cell, double manning_n,
                         const std::function<double(double, double)>& bed) {
  Terrain terrain;
  terrain.grid.nx = nx;
  terrain.grid.ny = ny;
  terrain.grid.cell = cell;
  const std::size_t cells = terrain.grid.cells();
  terrain.active.assign(cells, 1);
  terrain.elevation.resize(cells);
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i)
      terrain.elevation[terrain.grid.index(i, j)] = bed(terrain.grid.x(i), terrain.grid.y(j));
  terrain.manning_n.assign(cells, manning_n);
  terrain.manning_n_deep.assign(cells, manning_n);
  terrain.vegetation_height.assign(cells, 0.0);
  terrain.depression_storage.assign(cells, 0.0);
  terrain.crest_x.assign(terrain.grid.x_faces(), -std::numeric_limits<double>::infinity());
  terrain.crest_y.assign(terrain.grid.y_faces(), -std::numeric_limits<double>::infinity());
  return terrain;
}

// The dynamic method with every cell stepped to the end; celerity_cap [m/s].
inline lowspot::surface::Options
never_resting(double celerity_cap = lowspot::surface::Options{}.celerity_cap) {
  lowspot::surface::Options options;
  options.celerity_cap = celerity_cap;
  options.allow_rest = false;
  return options;
}

// Opens a whole side: 0 west, 1 east, 2 south, 3 north.
inline void open_side(Terrain& terrain, int side) {
  const auto& grid = terrain.grid;
  if (side < 2)
    for (int j = 0; j < grid.ny; ++j)
      terrain.open_faces.push_back({static_cast<int>(grid.index(side == 0 ? 0 : grid.nx - 1, j)), side});
  else
    for (int i = 0; i < grid.nx; ++i)
      terrain.open_faces.push_back({static_cast<int>(grid.index(i, side == 2 ? 0 : grid.ny - 1)), side});
}

constexpr double mm_per_hour = 1e-3 / 3600;

// A flow with its sources and the books kept beside it.
struct Run {
  explicit Run(Terrain terrain, lowspot::surface::Options options = {})
      : flow(std::move(terrain), options), supply(flow.depth().size(), 0.0), sink(supply), taken(supply) {}

  void rain(double rate) {
    for (std::size_t c = 0; c < supply.size(); ++c) supply[c] = flow.terrain().active[c] ? rate : 0.0;
  }
  // Returns the volume that left over the edges [m3].
  double advance(double dt) {
    const double area = flow.terrain().grid.cell_area();
    flow.advance(dt, supply, sink, taken);
    double left = 0;
    for (double volume : flow.left_through()) left += volume;
    for (std::size_t c = 0; c < supply.size(); ++c) {
      supplied += supply[c] * dt * area;
      sunk += taken[c] * area;
    }
    out += left;
    time += dt;
    return left;
  }
  // Water that the books cannot explain, given what was there at the start [m3].
  double misfit(double at_start = 0) const { return at_start + supplied - sunk - out - flow.volume(); }

  lowspot::surface::Flow flow;
  Field supply, sink, taken;
  double supplied = 0, sunk = 0, out = 0, time = 0;
};

// Rates of the run's supply by the source that `tag_of` names for each cell.
template <class TagOf>
void tag_supply(Run& run, TagOf tag_of) {
  std::vector<lowspot::surface::TagSupply> arriving;
  for (std::size_t c = 0; c < run.supply.size(); ++c)
    if (run.supply[c] > 0)
      arriving.push_back({static_cast<int>(c), tag_of(static_cast<int>(c)), run.supply[c]});
  run.flow.tags()->set_supply(arriving);
}

// Hollows and humps drawn from a seed, with a little storage.
inline lowspot::surface::Terrain bumpy(int nx, int ny, unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> unit(0, 1);
  const double a = unit(random), b = unit(random), c = unit(random);
  lowspot::surface::Terrain terrain = rectangle(nx, ny, 0.3, 0.03 + 0.1 * a, [=](double x, double y) {
    return 0.02 * a * x + 0.05 * b * std::sin(1.9 * x + c) * std::cos(1.4 * y + a) +
           0.01 * c * std::sin(5 * x + 4 * y);
  });
  for (double& storage : terrain.depression_storage) storage = 0.002 * c;
  return terrain;
}

} // namespace yards
