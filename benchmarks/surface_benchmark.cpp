// Cell updates per second of the hydraulic step, against a plain scalar version of the same equations (below)
// and beside the memory bandwidth of the moment. What level pools save is for yard_benchmark. The machine
// may be shared, so times are thread CPU time, the best of several.
// Usage: surface_benchmark [cells along a side ...], 128 400 1000 2000 unless given; then the same with
// single steps (nothing is blocked in time) and by two threads, these by the clock: only on a machine that is
// idle.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <limits>
#include <vector>

#include "cpu_seconds.hpp"

#include <lowspot/surface/flow.hpp>

using namespace lowspot;

namespace {

surface::Terrain rough_slope(int n, double cell) {
  surface::Terrain terrain;
  terrain.grid = {n, n, cell, 0, 0};
  const std::size_t cells = terrain.grid.cells();
  terrain.active.assign(cells, 1);
  terrain.manning_n.assign(cells, 0.05);
  terrain.manning_n_deep = terrain.manning_n;
  terrain.vegetation_height.assign(cells, 0.0);
  terrain.depression_storage.assign(cells, 0.0);
  terrain.crest_x.assign(terrain.grid.x_faces(), -std::numeric_limits<double>::infinity());
  terrain.crest_y.assign(terrain.grid.y_faces(), -std::numeric_limits<double>::infinity());
  for (int j = 0; j < n; ++j)
    for (int i = 0; i < n; ++i) {
      const double x = terrain.grid.x(i), y = terrain.grid.y(j);
      terrain.elevation.push_back(0.02 * x + 0.01 * y + 0.03 * std::sin(3 * x) * std::sin(2.3 * y));
    }
  for (int j = 0; j < n; ++j) terrain.open_faces.push_back({static_cast<int>(terrain.grid.index(0, j)), 0});
  return terrain;
}

// The same equations as they are written in libsim/surface/README.md, without vegetation and depression
// storage: one loop a term, in double precision, with library roots. Closed edges.
struct Plain {
  explicit Plain(const surface::Terrain& terrain)
      : grid(terrain.grid), z(terrain.elevation), n(terrain.manning_n), h(grid.cells(), 0.0), share(h),
        taken(h), qx(grid.x_faces(), 0.0), qy(grid.y_faces(), 0.0), qx_new(qx), qy_new(qy) {}

  // behind_a, behind_b: the cells beyond a and b.
  double face(std::size_t a, std::size_t b, std::size_t behind_a, std::size_t behind_b, double before,
              double here, double after, double across, double dt) const {
    const double level_a = z[a] + h[a], level_b = z[b] + h[b];
    const bool down = level_a > level_b;
    const double above = std::max(z[a], z[b]) - (down ? z[a] : z[b]);
    const double ahead = down ? h[b] - h[a] : h[a] - h[b];
    const double behind = down ? h[a] - h[behind_a] : h[b] - h[behind_b];
    const double change =
        ahead * behind > 0 ? std::copysign(std::min(std::abs(ahead), std::abs(behind)), ahead) : 0;
    const double depth = (down ? h[a] : h[b]) + (above > 0 ? -above : 0.4 * change);
    if (depth <= 1e-9) return 0;
    const double slope = (level_a - level_b) / grid.cell, roughness = down ? n[a] : n[b];
    const double square = here * here + std::min(across * across, 3 * here * here);
    const double speed = std::min(square / (depth * depth), 16 * 9.81 * depth);
    const double wave = std::max(std::min(9.81 * depth, 0.35 * 0.35), std::pow(1.15 * 5 / 3, 2) * speed);
    const double b_term = dt * wave *
                          std::max(roughness * roughness / std::pow(depth, 10.0 / 3.0),
                                   std::abs(slope) / (16 * 9.81) / std::pow(depth, 3.0));
    const double x = 0.9 * here + 0.05 * (before + after) + dt * wave * slope, size = std::abs(x);
    const double c = 1 + b_term * std::abs(across);
    const double guess = std::max(std::abs(here), size * c / (c * c + b_term * size));
    if (guess == 0) return 0;
    const double w = b_term / std::sqrt(guess * guess + across * across);
    const double half = 1 + w * across * across;
    return 2 * x / (half + std::sqrt(half * half + 4 * w * size * guess));
  }

  void step(double dt, double rain, double sink) {
    const int nx = grid.nx, ny = grid.ny;
    for (int j = 0; j < ny; ++j)
      for (int i = 1; i < nx; ++i) {
        const std::size_t f = grid.x_face(i, j), s = grid.y_face(i, j), t = grid.y_face(i, j + 1);
        qx_new[f] = face(grid.index(i - 1, j), grid.index(i, j), grid.index(std::max(i - 2, 0), j),
                         grid.index(std::min(i + 1, nx - 1), j), qx[f - 1], qx[f], qx[f + 1],
                         0.25 * (qy[s - 1] + qy[s] + qy[t - 1] + qy[t]), dt);
      }
    for (int j = 1; j < ny; ++j)
      for (int i = 0; i < nx; ++i) {
        const std::size_t f = grid.y_face(i, j), w = grid.x_face(i, j - 1), v = grid.x_face(i, j);
        qy_new[f] = face(grid.index(i, j - 1), grid.index(i, j), grid.index(i, std::max(j - 2, 0)),
                         grid.index(i, std::min(j + 1, ny - 1)), qy[f - nx], qy[f], qy[f + nx],
                         0.25 * (qx[w] + qx[w + 1] + qx[v] + qx[v + 1]), dt);
      }
    const double k = dt / grid.cell;
    for (int j = 0; j < ny; ++j)
      for (int i = 0; i < nx; ++i) {
        const std::size_t w = grid.x_face(i, j), s = grid.y_face(i, j), c = grid.index(i, j);
        const double out = k * (std::max(qx_new[w + 1], 0.0) - std::min(qx_new[w], 0.0) +
                                std::max(qy_new[s + nx], 0.0) - std::min(qy_new[s], 0.0));
        share[c] = out > h[c] ? h[c] / out : 1.0;
      }
    for (int j = 0; j < ny; ++j)
      for (int i = 1; i < nx; ++i) {
        double& q = qx_new[grid.x_face(i, j)];
        q *= share[grid.index(q > 0 ? i - 1 : i, j)];
      }
    for (int j = 1; j < ny; ++j)
      for (int i = 0; i < nx; ++i) {
        double& q = qy_new[grid.y_face(i, j)];
        q *= share[grid.index(i, q > 0 ? j - 1 : j)];
      }
    for (int j = 0; j < ny; ++j)
      for (int i = 0; i < nx; ++i) {
        const std::size_t w = grid.x_face(i, j), s = grid.y_face(i, j), c = grid.index(i, j);
        const double offered =
            h[c] + k * (qx_new[w] - qx_new[w + 1] + qy_new[s] - qy_new[s + nx]) + rain * dt;
        const double take = std::min(sink * dt, offered);
        h[c] = offered - take;
        taken[c] += take;
      }
    qx.swap(qx_new);
    qy.swap(qy_new);
  }

  Grid grid;
  Field z, n, h, share, taken, qx, qy, qx_new, qy_new;
};

// Bandwidth of a[i] = b[i] + s c[i] [bytes/s], 24 bytes an element.
double triad(std::size_t length) {
  std::vector<double> a(length, 0.0), b(length, 1.0), c(length, 2.0);
  double best = 0;
  const int repeats = static_cast<int>(std::max<std::size_t>(1, 4000000 / length));
  for (int k = 0; k < 10; ++k) {
    const double start = cpu_seconds();
    for (int r = 0; r < repeats; ++r) {
      for (std::size_t i = 0; i < length; ++i) a[i] = b[i] + 0.5 * c[i];
      b[k] = a[length - 1 - k];
    }
    best = std::max(best, 24.0 * static_cast<double>(length) * repeats / (cpu_seconds() - start));
  }
  return best;
}

double clock_seconds() {
  timespec time{};
  clock_gettime(CLOCK_MONOTONIC, &time);
  return static_cast<double>(time.tv_sec) + 1e-9 * static_cast<double>(time.tv_nsec);
}

struct Water {
  double rain = 60e-3 / 3600, soil = 5e-3 / 3600; // m/s
  double warm_up = 60; // s: films that have just begun to run are slower to work out than streams
};

// Cell updates per second of the library, the best of some rounds; `depth`: the water at their end.
double measure(const surface::Terrain& terrain, const surface::Options& options, const Water& water,
               double (*now)(), int rounds, Field* depth = nullptr) {
  surface::Flow flow(terrain, options);
  const Field supply(terrain.grid.cells(), water.rain), sink(terrain.grid.cells(), water.soil);
  Field taken(supply.size());
  flow.advance(water.warm_up, supply, sink, taken);
  double best = 0;
  for (int round = 0; round < rounds; ++round) {
    const double before = flow.counters().cell_updates, start = now();
    flow.advance(10, supply, sink, taken);
    best = std::max(best, (flow.counters().cell_updates - before) / (now() - start));
  }
  if (depth) depth->assign(flow.depth().begin(), flow.depth().end());
  return best;
}

double measure_plain(const surface::Terrain& terrain, const Water& water, const Field& depth, int rounds) {
  const int n = terrain.grid.nx, steps = std::max(2, 1000000 / (n * n));
  Plain plain(terrain);
  plain.h = depth;
  for (int k = 0; k < 3; ++k) plain.step(0.1, water.rain, water.soil);
  double best = 0;
  for (int round = 0; round < rounds; ++round) {
    const double start = cpu_seconds();
    for (int k = 0; k < steps; ++k) plain.step(0.1, water.rain, water.soil);
    best = std::max(best, static_cast<double>(steps) * n * n / (cpu_seconds() - start));
  }
  return best;
}

void compare_kernels(const std::vector<int>& sizes) {
  std::printf("triad: %.0f GB/s in cache, %.0f GB/s in memory\n", triad(1000) * 1e-9, triad(8000000) * 1e-9);
  std::printf("million cell updates a second; by the clock on one and two threads\n%6s %8s %8s %6s %14s %8s "
              "%8s %6s\n",
              "side", "plain", "library", "ratio", "single steps", "one", "two", "ratio");
  for (const int n : sizes) {
    const surface::Terrain terrain = rough_slope(n, 0.1);
    Water water;
    if (n > 1000) water.warm_up = 25;
    const int rounds = n > 1000 ? 2 : n > 500 ? 4 : 12;
    surface::Options single, pair;
    single.most_together = 1;
    pair.threads = 2;
    Field depth;
    const double grouped = measure(terrain, {}, water, cpu_seconds, rounds, &depth);
    const double plain = measure_plain(terrain, water, depth, std::min(rounds, 4));
    const double alone = measure(terrain, single, water, cpu_seconds, rounds);
    const double one = measure(terrain, {}, water, clock_seconds, rounds);
    const double two = measure(terrain, pair, water, clock_seconds, rounds);
    std::printf("%6d %8.1f %8.1f %6.1f %14.1f %8.1f %8.1f %6.2f\n", n, plain * 1e-6, grouped * 1e-6,
                grouped / plain, alone * 1e-6, one * 1e-6, two * 1e-6, two / one);
  }
}

} // namespace

int main(int count, char** arguments) {
  std::setvbuf(stdout, nullptr, _IOLBF, BUFSIZ);
  std::vector<int> sizes;
  for (int k = 1; k < count; ++k) sizes.push_back(std::atoi(arguments[k]));
  if (sizes.empty()) sizes = {128, 400, 1000, 2000};
  compare_kernels(sizes);
}
