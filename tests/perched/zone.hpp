// A perched zone with fixed porosity, marched in time: what the tests of this layer share.
#pragma once
#include <algorithm>
#include <limits>
#include <random>

#include <lowspot/perched/solver.hpp>

namespace zone {

using namespace lowspot;

inline constexpr double day = 86400;

// nx by ny cells, level tight layer, thickness `depth`, no leakage.
inline perched::Layer flat_layer(int nx, int ny, double cell, double depth, double conductivity) {
  perched::Layer layer;
  layer.grid = {nx, ny, cell, 0, 0};
  const std::size_t cells = layer.grid.cells();
  layer.active.assign(cells, 1);
  layer.tight_elevation.assign(cells, 0.0);
  layer.thickness.assign(cells, depth);
  layer.conductivity.assign(cells, conductivity);
  layer.leakage_conductivity.assign(cells, 0.0);
  layer.leakage_thickness.assign(cells, std::numeric_limits<double>::infinity());
  return layer;
}

// Tight layer falling to the east.
inline void tilt(perched::Layer& layer, double slope) {
  for (int j = 0; j < layer.grid.ny; ++j)
    for (int i = 0; i < layer.grid.nx; ++i)
      layer.tight_elevation[layer.grid.index(i, j)] = -slope * layer.grid.x(i);
}

struct Zone {
  Zone(perched::Layer layer_, double porosity_, perched::Options options = {})
      : layer(layer_), solver(layer_, options), porosity(layer_.grid.cells(), porosity_),
        saturated(layer_.grid.cells(), 0.0), recharge(saturated), head_above(saturated) {}

  // One step; what passes the ground is counted in `returned` [m3].
  const perched::StepResult& advance(double dt, double recharge_rate = 0) {
    std::fill(recharge.begin(), recharge.end(), recharge_rate * dt);
    const perched::StepResult& result =
        solver.step(saturated, porosity, porosity, recharge, head_above, exchanges, dt);
    const double cell_area = layer.grid.cell_area();
    for (std::size_t c = 0; c < saturated.size(); ++c) {
      const double content = saturated[c] * porosity[c] + result.net_water[c];
      const double most = layer.thickness[c] * porosity[c];
      returned += std::max(0.0, content - most) * cell_area;
      saturated[c] = std::min(content, most) / porosity[c];
      leaked += result.leakage[c] * cell_area;
    }
    return result;
  }
  double water() const {
    double sum = 0;
    for (std::size_t c = 0; c < saturated.size(); ++c) sum += saturated[c] * porosity[c];
    return sum * layer.grid.cell_area();
  }

  perched::Layer layer;
  perched::Solver solver;
  Field porosity, saturated, recharge, head_above;
  std::vector<perched::Exchange> exchanges;
  double returned = 0, leaked = 0;
};

// A hummocky layer with steps, gaps, dry parts and every kind of exchange, from a seed.
struct Scene {
  perched::Layer layer;
  Field saturated, rising, falling, recharge, head_above;
  std::vector<perched::Exchange> exchanges;
};

inline Scene random_scene(unsigned seed, int nx, int ny) {
  std::mt19937 generator(seed);
  std::uniform_real_distribution<double> unit(0, 1);
  Scene scene;
  scene.layer = flat_layer(nx, ny, 0.25 + unit(generator), 0.3, 1e-5);
  const double slope_x = 0.2 * (unit(generator) - 0.5), slope_y = 0.2 * (unit(generator) - 0.5);
  const std::size_t cells = scene.layer.grid.cells();
  for (std::size_t c = 0; c < cells; ++c) {
    const int i = scene.layer.grid.column(c), j = scene.layer.grid.row(c);
    scene.layer.active[c] = unit(generator) > 0.08;
    scene.layer.tight_elevation[c] = slope_x * scene.layer.grid.x(i) + slope_y * scene.layer.grid.y(j) +
                                     0.1 * unit(generator) + (i > nx / 2 ? 1.0 : 0.0);
    scene.layer.thickness[c] = 0.1 + 0.4 * unit(generator);
    scene.layer.conductivity[c] = std::pow(10.0, -6 + 2.5 * unit(generator));
    scene.layer.leakage_conductivity[c] =
        unit(generator) < 0.3 ? 0 : std::pow(10.0, -9 + 3 * unit(generator));
    if (unit(generator) < 0.5) scene.layer.leakage_thickness[c] = 0.05 + unit(generator);
    const double pick = unit(generator);
    scene.saturated.push_back(pick < 0.4   ? 0
                              : pick > 0.9 ? scene.layer.thickness[c]
                                           : scene.layer.thickness[c] * unit(generator));
    scene.falling.push_back(0.02 + 0.2 * unit(generator));
    scene.rising.push_back(0.01 + 0.3 * unit(generator));
    scene.recharge.push_back(unit(generator) < 0.5 ? 0 : 0.03 * unit(generator));
    if (unit(generator) < 0.05)
      scene.recharge.back() = -scene.falling[c] * scene.saturated[c] * unit(generator);
    scene.head_above.push_back(unit(generator) < 0.5 ? 0 : 0.1 * unit(generator));
    if (unit(generator) < 0.08)
      scene.exchanges.push_back({static_cast<int>(c), std::pow(10.0, -6 + 4 * unit(generator)),
                                 scene.layer.tight_elevation[c] + 0.8 * unit(generator) - 0.2,
                                 0.02 * unit(generator)});
  }
  for (int j = 0; j < ny; ++j) {
    scene.layer.outflow_faces.push_back({static_cast<int>(scene.layer.grid.index(0, j)), 0});
    scene.layer.outflow_faces.push_back({static_cast<int>(scene.layer.grid.index(nx - 1, j)), 1});
  }
  for (int i = 0; i < nx; ++i) {
    scene.layer.outflow_faces.push_back({static_cast<int>(scene.layer.grid.index(i, 0)), 2});
    scene.layer.outflow_faces.push_back({static_cast<int>(scene.layer.grid.index(i, ny - 1)), 3});
  }
  scene.layer.inflow_faces = {{static_cast<int>(scene.layer.grid.index(0, ny / 2)), 0, 0.25},
                              {static_cast<int>(scene.layer.grid.index(nx / 2, ny - 1)), 3, 0.1}};
  return scene;
}

inline perched::StepResult step(const Scene& s, double dt, const perched::Options& options = {}) {
  return perched::step(s.layer, s.saturated, s.rising, s.falling, s.recharge, s.head_above, s.exchanges, dt,
                       options);
}

} // namespace zone
