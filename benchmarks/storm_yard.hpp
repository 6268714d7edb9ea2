// A yard of 30 m by 40 m in a six-hour storm and the week after it, for the surface alone: house with
// downspouts, patio, lawn with small bumps, a bed in a low spot, one open side; the soil takes water by
// Green-Ampt.
#pragma once
#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <vector>

#include "cpu_seconds.hpp"

#include <lowspot/surface/flow.hpp>

namespace storm_yard {

using lowspot::Field;
using lowspot::Grid;

struct Yard {
  lowspot::surface::Terrain terrain;
  Field conductivity;          // m/s, 0 under the patio
  std::vector<int> downspouts; // cells
  double roof_area = 0;        // m2
};

// Bumps on a grid of knots 1 m apart, the same whatever the cell [m].
struct Bumps {
  explicit Bumps(double height_) : height(height_) {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> unit(-1, 1);
    for (double& knot : knots) knot = unit(random);
  }
  double at(double x, double y) const {
    const int i = std::min(static_cast<int>(x), 38), j = std::min(static_cast<int>(y), 48);
    const double u = x - i, v = y - j, a = u * u * (3 - 2 * u), b = v * v * (3 - 2 * v);
    const double* k = &knots[static_cast<std::size_t>(j) * 40 + i];
    return height * ((1 - b) * ((1 - a) * k[0] + a * k[1]) + b * ((1 - a) * k[40] + a * k[41]));
  }
  double height;
  std::vector<double> knots = std::vector<double>(40 * 50);
};

// after: the low spot is half filled in and the soil there takes four times as much.
inline Yard make_yard(double cell, bool after) {
  Yard yard;
  auto& terrain = yard.terrain;
  terrain.grid = {static_cast<int>(std::lround(30 / cell)), static_cast<int>(std::lround(40 / cell)), cell, 0,
                  0};
  const Grid& grid = terrain.grid;
  const double none = -std::numeric_limits<double>::infinity();
  terrain.crest_x.assign(grid.x_faces(), none);
  terrain.crest_y.assign(grid.y_faces(), none);
  const Bumps bumps(0.012);
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i) {
      const double x = grid.x(i), y = grid.y(j);
      const bool house = x > 9 && x < 21 && y > 22 && y < 32;
      const bool patio = x > 11 && x < 19 && y > 16 && y < 22;
      const double away = std::hypot(x - 20, y - 9);
      const double low_spot = (after ? 0.08 : 0.16) * std::exp(-away * away / 12);
      // A lawn falling to the south and a little to the west, a bank across it below the low spot.
      double z = 0.012 * y + 0.004 * x + bumps.at(x, y) - low_spot + 0.05 * std::exp(-(y - 5) * (y - 5) / 4);
      if (patio) z = 0.012 * 22 + 0.03 - 0.01 * (22 - y);
      terrain.elevation.push_back(z);
      terrain.active.push_back(house ? 0 : 1);
      terrain.manning_n.push_back(patio ? 0.015 : 0.2);
      terrain.manning_n_deep.push_back(patio ? 0.015 : 0.06);
      terrain.vegetation_height.push_back(patio ? 0.0 : 0.06);
      terrain.depression_storage.push_back(patio ? 0.001 : 0.003);
      const bool bed = away < 3.5;
      yard.conductivity.push_back(patio ? 0.0 : (bed && after ? 4.0 : 1.0) * 1e-3 / 3600);
    }
  for (int i = 0; i < grid.nx; ++i) terrain.open_faces.push_back({static_cast<int>(grid.index(i, 0)), 2});
  const auto cell_of = [&](double x, double y) {
    return static_cast<int>(grid.index(static_cast<int>(x / cell), static_cast<int>(y / cell)));
  };
  yard.downspouts = {cell_of(8.6, 22.4), cell_of(21.4, 22.4), cell_of(8.6, 31.6), cell_of(21.4, 31.6)};
  yard.roof_area = 120;
  return yard;
}

// 60 mm in six hours times `factor`, in steps of five minutes with the burst in the middle [m/s].
inline double rain_at(double time, double factor) {
  if (time >= 6 * 3600) return 0;
  const double middle = 300 * std::floor(time / 300) + 150;
  const double off = (middle - 3 * 3600) / 3600;
  const double shape = 0.35 + 4.2 / (1 + 30 * off * off);
  return factor * 0.060 / 3600 * shape / 6 * 1.4158;
}

struct Answer {
  Field max_depth;                // m
  Field hours;                    // deeper than 5 mm after the rain
  std::vector<double> hydrograph; // m3/s over the edge, means of five minutes
  double surface_seconds = 0;     // CPU
  double steps = 0;
  double rain = 0, out = 0, taken = 0, stored = 0; // m3
};

// storm_step, film_step [s]: of the yard while it rains, and while films still flow.
inline Answer run(const Yard& yard, lowspot::surface::Options options, double rain_factor, double until,
                  double storm_step, double film_step) {
  lowspot::surface::Flow flow(yard.terrain, options);
  const Grid& grid = yard.terrain.grid;
  const std::size_t cells = grid.cells();
  constexpr double deep = 0.005, suction_deficit = 0.2 * 0.12, end_of_rain = 6 * 3600;
  Field supply(cells, 0.0), sink(cells, 0.0), taken(cells, 0.0), soaked(cells, 0.0), before(cells, 0.0);
  Answer answer;
  answer.max_depth.assign(cells, 0.0);
  answer.hours.assign(cells, 0.0);
  double in_bin = 0, time = 0;
  while (time < until - 1e-6) {
    const double rain = rain_at(time, rain_factor);
    double dt = rain > 0 ? storm_step : film_step;
    if (rain == 0 && flow.at_rest()) dt = time < 12 * 3600 ? 300 : 900;
    dt = std::min(dt, 300 - std::fmod(time, 300) + (dt > 300 ? dt - 300 : 0));
    for (std::size_t c = 0; c < cells; ++c) {
      if (!yard.terrain.active[c]) continue;
      before[c] = flow.depth()[c];
      supply[c] = rain;
      const double capacity = yard.conductivity[c] * (1 + suction_deficit / std::max(soaked[c], 1e-4));
      sink[c] = before[c] > 0 || rain > 0 ? capacity : 0;
      answer.rain += rain * dt * grid.cell_area();
    }
    for (int cell : yard.downspouts)
      supply[cell] +=
          rain * yard.roof_area / (grid.cell_area() * static_cast<double>(yard.downspouts.size()));
    answer.rain += rain * yard.roof_area * dt;
    const double start = cpu_seconds();
    flow.advance(dt, supply, sink, taken);
    answer.surface_seconds += cpu_seconds() - start;
    for (double volume : flow.left_through()) {
      in_bin += volume;
      answer.out += volume;
    }
    for (std::size_t c = 0; c < cells; ++c) {
      if (!yard.terrain.active[c]) continue;
      soaked[c] += taken[c];
      answer.taken += taken[c] * grid.cell_area();
      const double a = before[c], b = flow.depth()[c];
      answer.max_depth[c] = std::max(answer.max_depth[c], b);
      if (time < end_of_rain) continue;
      const double share = a > deep && b > deep   ? 1
                           : a > deep || b > deep ? (std::max(a, b) - deep) / std::abs(a - b)
                                                  : 0;
      answer.hours[c] += share * dt / 3600;
    }
    time += dt;
    if (std::fmod(time + 1e-6, 300) < 1e-3 && time < 12 * 3600) {
      answer.hydrograph.push_back(in_bin / 300);
      in_bin = 0;
    }
  }
  answer.stored = flow.volume();
  answer.steps = static_cast<double>(flow.counters().steps);
  return answer;
}

struct Difference {
  double overlap = 0;               // cells wet for more than three hours: intersection over union
  double hours = 0;                 // RMS over those of either [h]
  double hydrograph = 0;            // RMS, of the peak
  double depth = 0, depth_most = 0; // of the greatest depths, RMS and most [m]
  double ponded = 0;                // area times hours deeper than 5 mm, relative
};

// How an answer differs from that of a reference.
inline Difference between(const Answer& reference, const Answer& other) {
  Difference result;
  double both = 0, either = 0, squares = 0, depth = 0, cells = 0, sum = 0, sum_other = 0;
  for (std::size_t c = 0; c < reference.hours.size(); ++c) {
    const double a = reference.hours[c], b = other.hours[c];
    sum += a;
    sum_other += b;
    both += a > 3 && b > 3;
    if (a > 3 || b > 3) {
      either += 1;
      squares += (a - b) * (a - b);
    }
    const double d = reference.max_depth[c] - other.max_depth[c];
    depth += d * d;
    cells += reference.max_depth[c] > 0;
    result.depth_most = std::max(result.depth_most, std::abs(d));
  }
  result.overlap = both / std::max(either, 1.0);
  result.hours = std::sqrt(squares / std::max(either, 1.0));
  result.depth = std::sqrt(depth / cells);
  result.ponded = sum_other / sum - 1;
  double peak = 0, misfit = 0;
  for (std::size_t k = 0; k < reference.hydrograph.size(); ++k) {
    peak = std::max(peak, reference.hydrograph[k]);
    misfit += std::pow(reference.hydrograph[k] - other.hydrograph[k], 2);
  }
  result.hydrograph = std::sqrt(misfit / static_cast<double>(reference.hydrograph.size())) / peak;
  return result;
}

} // namespace storm_yard
