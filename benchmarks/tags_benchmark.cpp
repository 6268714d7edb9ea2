// What it costs to follow the sources of the water: the same storm without and with 1 to 12 sources, thread
// CPU time, the best of several. The goal is that one more source costs less than the flow itself.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>
#include <vector>

#include "cpu_seconds.hpp"

#include <lowspot/surface/tags.hpp>

using namespace lowspot;

namespace {

// A yard of 160 by 120 cells of a quarter metre with pits, open to the west.
surface::Terrain pitted_yard() {
  surface::Terrain terrain;
  terrain.grid = {160, 120, 0.25, 0, 0};
  const std::size_t cells = terrain.grid.cells();
  terrain.active.assign(cells, 1);
  terrain.manning_n.assign(cells, 0.05);
  terrain.manning_n_deep = terrain.manning_n;
  terrain.vegetation_height.assign(cells, 0.0);
  terrain.depression_storage.assign(cells, 0.001);
  terrain.crest_x.assign(terrain.grid.x_faces(), -std::numeric_limits<double>::infinity());
  terrain.crest_y.assign(terrain.grid.y_faces(), -std::numeric_limits<double>::infinity());
  for (int j = 0; j < terrain.grid.ny; ++j)
    for (int i = 0; i < terrain.grid.nx; ++i) {
      const double x = terrain.grid.x(i), y = terrain.grid.y(j);
      terrain.elevation.push_back(0.02 * x + 0.01 * y + 0.03 * std::sin(3 * x) * std::sin(2.3 * y));
    }
  for (int j = 0; j < terrain.grid.ny; ++j)
    terrain.open_faces.push_back({static_cast<int>(terrain.grid.index(0, j)), 0});
  return terrain;
}

// CPU seconds of ten minutes of rain.
double storm(const surface::Flow& dry, int sources) {
  surface::Flow flow = dry;
  const std::size_t cells = flow.depth().size();
  const Field supply(cells, 40e-3 / 3600), sink(cells, 5e-3 / 3600);
  Field taken(cells);
  if (sources > 0) flow.follow_sources(sources);
  const double start = cpu_seconds();
  for (int step = 0; step < 60; ++step) {
    if (sources > 0) { // as a yard does before every step
      std::vector<surface::TagSupply> arriving;
      for (std::size_t c = 0; c < cells; ++c)
        arriving.push_back({static_cast<int>(c), static_cast<int>(c * sources / cells), supply[c]});
      flow.tags()->set_supply(arriving);
    }
    flow.advance(10, supply, sink, taken);
  }
  return cpu_seconds() - start;
}

} // namespace

int main() {
  const surface::Flow dry(pitted_yard());
  const std::vector<int> counts = {0, 1, 3, 6, 12};
  std::vector<double> best(counts.size(), 1e300);
  for (int round = 0; round < 5; ++round)
    for (std::size_t k = 0; k < counts.size(); ++k) best[k] = std::min(best[k], storm(dry, counts[k]));
  std::printf("160 x 120 cells, 10 min of rain\nsources  CPU s  times none  each source, times the flow\n");
  for (std::size_t k = 0; k < counts.size(); ++k)
    std::printf("%7d  %5.2f  %10.2f  %.2f\n", counts[k], best[k], best[k] / best[0],
                counts[k] > 0 ? (best[k] - best[0]) / counts[k] / best[0] : 0.0);
  return 0;
}
