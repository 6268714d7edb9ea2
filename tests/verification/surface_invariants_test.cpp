// What must hold whatever the ground: still lakes stay still, pools gain no energy, direction does not
// matter, and no water is made or lost.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <vector>

#include "catch.hpp"
#include "figures.hpp"
#include "surface/yards.hpp"

using namespace yards;
using lowspot::Grid;

namespace {

constexpr double usual_cap = 0.5; // m/s, of the celerity
constexpr double pi = 3.14159265358979323846;

// A lake with ten dry islands; rounded to a micrometre.
double bumpy(double x, double y) {
  const double z = 0.30 + 0.25 * std::sin(2 * pi * x / 10) * std::cos(2 * pi * y / 7.5) +
                   0.40 * std::exp(-((x - 12) * (x - 12) + (y - 9) * (y - 9)) / 2);
  return std::round(z * 1e6) / 1e6;
}

void fill_to(Run& run, double level) {
  const Field& z = run.flow.terrain().elevation;
  for (std::size_t c = 0; c < z.size(); ++c)
    if (z[c] < level) run.flow.give(static_cast<int>(c), level - z[c]);
}

// Numbers in [-1, 1) that look random.
double noise(std::uint32_t& state) {
  state = state * 1664525u + 1013904223u;
  return (state >> 8) / 8388608.0 - 1.0;
}

} // namespace

TEST_CASE("Lake at rest around dry islands, then rain", "[verification][surface]") {
  for (const double cap : {0.5, 1e9})
    for (const double lift : {0.0, 100.0}) {
      CAPTURE(cap, lift);
      Run run(rectangle(40, 30, 0.5, 0.03, [&](double x, double y) { return bumpy(x, y) + lift; }),
              never_resting(cap));
      fill_to(run, 0.35 + lift);
      const Field z = run.flow.terrain().elevation;
      CHECK_THAT(run.flow.volume(), WithinAbs(23.333812, 1e-6));
      const double start = run.flow.volume();
      run.advance(3600);
      int wet = 0;
      double off = 0, q = 0;
      for (std::size_t c = 0; c < z.size(); ++c) {
        const double h = run.flow.depth()[c];
        if (h > 0) off = std::max(off, std::abs(z[c] + h - 0.35 - lift));
        if (h > 0) ++wet;
      }
      for (const double value : run.flow.discharge_x()) q = std::max(q, std::abs(value));
      for (const double value : run.flow.discharge_y()) q = std::max(q, std::abs(value));
      CHECK(wet == 781);
      CHECK(off < (lift > 0 ? 1e-11 : 1e-12)); // elevations of 100 m are rounded to 1e-14
      CHECK(q < 1e-12);
      figures::record("surface", "lake at rest round ten islands, an hour", "largest discharge, m2/s", q,
                      figures::at_most(1e-12));
      figures::record("surface", "lake at rest round ten islands, an hour", "level off, m", off,
                      figures::at_most(1e-12));
      if (lift > 0 || cap > 1) continue; // the long part once
      run.rain(20 * mm_per_hour);
      run.advance(3600);
      run.rain(0);
      run.advance(5 * 3600);
      double low = 1e9, high = -1e9;
      for (std::size_t c = 0; c < z.size(); ++c) {
        if (run.flow.depth()[c] < 0.01) continue;
        low = std::min(low, z[c] + run.flow.depth()[c]);
        high = std::max(high, z[c] + run.flow.depth()[c]);
      }
      CHECK(high - low < 1e-4);
      CHECK_THAT(run.flow.volume(), WithinAbs(start + 6.0, 1e-9));
    }
}

TEST_CASE("A closed pool gains no energy", "[verification][surface]") {
  struct Pool {
    double cell, cap;
  };
  for (const auto& [cell, cap] : {Pool{0.5, 0.2}, Pool{0.5, 0.5}, Pool{0.5, 1e9}, Pool{0.25, 0.2},
                                  Pool{0.1, 0.2}, Pool{0.1, 0.5}, Pool{0.1, 1e9}}) {
    CAPTURE(cell, cap);
    Run run(rectangle(12, 12, cell, 0.03, [](double, double) { return 0.0; }), never_resting(cap));
    std::vector<double> ripple(144);
    std::uint32_t state = 7;
    double mean = 0;
    for (double& value : ripple) mean += (value = 0.01 * noise(state)) / 144;
    for (int c = 0; c < 144; ++c) run.flow.give(c, 0.4 + ripple[c] - mean);
    // With the celerity capped, sqrt(G) takes the place of sqrt(g h) and the conserved energy is that of G.
    const double g = std::min(9.81 * 0.4, cap * cap) / 0.4;
    const auto energy = [&] {
      double sum = 0;
      for (const double h : run.flow.depth()) sum += g * (h - 0.4) * (h - 0.4) / 2;
      for (const double q : run.flow.discharge_x()) sum += q * q / 0.8;
      for (const double q : run.flow.discharge_y()) sum += q * q / 0.8;
      return sum;
    };
    const auto highest = [&] {
      double most = 0;
      for (const double h : run.flow.depth()) most = std::max(most, std::abs(h - 0.4));
      return most;
    };
    double allowed = energy(), most_energy = 0, most_height = 0;
    while (run.time < 7200) {
      run.advance(run.time < 600 ? 0.5 : 60);
      if (run.time <= 2) allowed = std::max(allowed, energy());
      most_energy = std::max(most_energy, energy());
      most_height = std::max(most_height, highest());
    }
    CHECK(most_energy <= 1.02 * allowed);
    figures::record("surface", "closed pool, 1 cm ripple", "most energy over that of the first 2 s",
                    most_energy / allowed, figures::at_most(1.02));
    CHECK(most_height <= 0.020);
    CHECK(highest() <= 0.003);
    CHECK_THAT(run.flow.volume(), WithinAbs(144 * 0.4 * cell * cell, 1e-10));
  }
}

// All that comes down a swale soaks in on a strip of it, where its discharge has two kinks. The celerity, and
// with it the step, changes by a factor of four and more.
TEST_CASE("Steady flow does not hang on the celerity", "[verification][surface]") {
  const auto profile = [](double cap) {
    Run run(rectangle(60, 1, 0.25, 0.05, [](double x, double) { return x < 10 ? 0.01 * (10 - x) : 0.0; }),
            never_resting(cap));
    run.supply[0] = 0.003 / 0.25;
    for (int i = 40; i < 48; ++i) run.sink[i] = 2 * 0.003 / (8 * 0.25); // from the edge of the pool on
    run.advance(3 * 3600);
    return Field(run.flow.depth().begin(), run.flow.depth().end());
  };
  const Field slow = profile(0.1), fast = profile(1e9);
  for (std::size_t i = 0; i < slow.size(); ++i) {
    CAPTURE(i, slow[i], fast[i]);
    CHECK_THAT(slow[i], WithinAbs(fast[i], 1e-6 + 1e-5 * fast[i]));
  }
}

// Streamlines are straight at 45 degrees, |q| = r s along them, and friction takes the size of the vector.
TEST_CASE("Friction is the same in all directions", "[verification][surface]") {
  const double s = 0.0141421;
  Terrain terrain = rectangle(40, 32, 0.5, 0.05, [&](double x, double y) { return 1 - s * x - s * y; });
  open_side(terrain, 1);
  open_side(terrain, 3);
  Run run(std::move(terrain), never_resting(usual_cap));
  run.rain(50 * mm_per_hour);
  double east = 0, north = 0;
  const auto read = [&](double time) {
    run.advance(time - run.time - 0.5);
    run.advance(0.5);
    east = north = 0;
    for (std::size_t k = 0; k < run.flow.left_through().size(); ++k)
      (run.flow.terrain().open_faces[k].side == 1 ? east : north) += run.flow.left_through()[k] / 0.5 * 1e3;
  };
  read(120);
  CHECK_THAT(east, WithinRel(0.67068, 0.03));
  figures::record("surface", "slope at 45 degrees", "discharge over a side as it rises, L/s", 0.67068, east,
                  figures::share(0.03));
  CHECK_THAT(north, WithinRel(0.85811, 0.03));
  figures::record("surface", "slope at 45 degrees", "discharge over a side as it rises, L/s", 0.85811, north,
                  figures::share(0.03));
  read(240);
  CHECK_THAT(east, WithinRel(1.58351, 0.03));
  figures::record("surface", "slope at 45 degrees", "discharge over a side as it rises, L/s", 1.58351, east,
                  figures::share(0.03));
  CHECK_THAT(north, WithinRel(2.17856, 0.03));
  figures::record("surface", "slope at 45 degrees", "discharge over a side as it rises, L/s", 2.17856, north,
                  figures::share(0.03));
  read(1500);
  CHECK_THAT(east, WithinRel(1.777778, 0.06));
  figures::record("surface", "slope at 45 degrees", "steady discharge over a side, L/s", 1.777778, east,
                  figures::share(0.06));
  CHECK_THAT(north, WithinRel(2.666667, 0.06));
  figures::record("surface", "slope at 45 degrees", "steady discharge over a side, L/s", 2.666667, north,
                  figures::share(0.06));
  CHECK_THAT(east + north, WithinRel(4.444444, 0.0005));
  const Grid& grid = run.flow.terrain().grid;
  const auto h = run.flow.depth();
  const double depth =
      0.25 * (h[grid.index(31, 11)] + h[grid.index(32, 11)] + h[grid.index(31, 12)] + h[grid.index(32, 12)]);
  CHECK_THAT(depth, WithinRel(2.3544e-3, 0.05));
  figures::record("surface", "slope at 45 degrees", "depth, mm", (2.3544e-3) * 1e3, (depth)*1e3,
                  figures::share(0.05));
  CHECK(std::abs(run.misfit()) < 1e-9 * run.supplied);
}

namespace {

// A yard of n by n cells with slopes, pits, a wall, mixed covers and all edges open, seen in one of eight
// ways.
struct View {
  bool swap, flip_x, flip_y;
};

Run odd_yard(int n, const View& view, double lift) {
  const double size = n * 0.5;
  const auto seen = [=](double x, double y) {
    double a = view.flip_x ? size - x : x, b = view.flip_y ? size - y : y;
    if (view.swap) std::swap(a, b);
    return std::pair<double, double>(a, b);
  };
  Terrain terrain = rectangle(n, n, 0.5, 0.03, [&](double x, double y) {
    const auto [a, b] = seen(x, y);
    return lift + 0.02 * a + 0.013 * b + 0.05 * std::sin(1.3 * a) * std::sin(0.7 * b + 0.4 * a);
  });
  for (int j = 0; j < n; ++j)
    for (int i = 0; i < n; ++i) {
      const auto [a, b] = seen(terrain.grid.x(i), terrain.grid.y(j));
      const std::size_t c = terrain.grid.index(i, j);
      if (a > size / 2) terrain.manning_n[c] = 0.2;
      if (b > size / 2) terrain.depression_storage[c] = 0.001;
      if (a > size / 3) terrain.vegetation_height[c] = 0.01;
      terrain.manning_n_deep[c] = 0.4 * terrain.manning_n[c];
    }
  for (int side = 0; side < 4; ++side) open_side(terrain, side);
  return Run(std::move(terrain), never_resting(usual_cap));
}

double largest_difference(const Run& a, const Run& b, int n, const View& view) {
  double most = 0;
  for (int j = 0; j < n; ++j)
    for (int i = 0; i < n; ++i) {
      int p = view.flip_x ? n - 1 - i : i, q = view.flip_y ? n - 1 - j : j;
      if (view.swap) std::swap(p, q);
      most = std::max(most, std::abs(b.flow.depth()[j * n + i] - a.flow.depth()[q * n + p]));
    }
  return most;
}

} // namespace

TEST_CASE("Mirrored, turned and lifted yards give the same water", "[verification][surface]") {
  const int n = 40;
  const auto rained = [&](const View& view, double lift, int blocks) {
    Run run = odd_yard(n, view, lift);
    run.rain(60 * mm_per_hour);
    for (int k = 0; k < blocks; ++k) run.advance(600.0 / blocks);
    run.rain(0);
    run.advance(300);
    CHECK(std::abs(run.misfit()) < 1e-9 * run.supplied);
    return run;
  };
  const View plain{false, false, false};
  const Run reference = rained(plain, 0, 1);
  for (const View& view : {View{false, true, false}, View{false, false, true}, View{true, false, false},
                           View{true, true, false}}) {
    CAPTURE(view.swap, view.flip_x, view.flip_y);
    const Run other = rained(view, 0, 1);
    CHECK(largest_difference(reference, other, n, view) < 1e-10 * 0.05); // pools are about 5 cm deep
    figures::record("surface", "mirrored and turned yards", "difference of depth, m",
                    largest_difference(reference, other, n, view), figures::at_most(1e-10 * 0.05));
    CHECK_THAT(other.out, WithinRel(reference.out, 1e-10));
  }
  const Run lifted = rained(plain, 100, 1);
  // Rounding decides at the limits of what a quick step finds in full.
  CHECK(largest_difference(reference, lifted, n, plain) < 1e-7);
  const Run split = rained(plain, 0, 4);
  CHECK(largest_difference(reference, split, n, plain) < 1e-6);
}

// Water on a plane that lies at 30 degrees to the grid runs as on one that lies along it. Above, and to one
// side, the plane ends at walls, from which the distance down the slope is counted.
TEST_CASE("A plane turned by 30 degrees", "[verification][surface]") {
  const double angle = pi / 6, c = std::cos(angle), s = std::sin(angle);
  const auto plane = [](int nx, int ny, double dx, double along_x, double along_y) {
    Terrain terrain = rectangle(nx, ny, dx, 0.05,
                                [&](double x, double y) { return 2 - 0.02 * (along_x * x + along_y * y); });
    open_side(terrain, 1);
    if (along_y > 0) open_side(terrain, 3);
    Run run(std::move(terrain), never_resting(usual_cap));
    run.rain(60 * mm_per_hour);
    return run;
  };
  std::vector<double> means;
  for (const double dx : {0.5, 0.25}) {
    const int side = static_cast<int>(std::lround(24 / dx)), length = static_cast<int>(std::lround(30 / dx));
    Run turned = plane(side, side, dx, c, s), aligned = plane(length, 3, dx, 1, 0);
    double worst_mean = 0;
    for (const double time : {100.0, 150.0, 200.0, 900.0}) {
      turned.advance(time - turned.time);
      aligned.advance(time - aligned.time);
      const auto h = aligned.flow.depth();
      double sum = 0, most = 0;
      int compared = 0;
      for (int j = 0; j < side - 2; ++j)
        for (int i = 0; i < side - 2; ++i) {
          const double x = (i + 0.5) * dx, y = (j + 0.5) * dx, down = std::min(x / c, y / s);
          // Where streamlines from the two walls meet, pressure smooths the kink over some 2 m.
          if (down < 5 || down > 29 || std::abs(y * c - x * s) < 6) continue;
          const double at = down / dx - 0.5;
          const int k = static_cast<int>(at);
          const double expected = h[length + k] + (at - k) * (h[length + k + 1] - h[length + k]);
          const double error = std::abs(turned.flow.depth()[j * side + i] / expected - 1);
          sum += error;
          most = std::max(most, error);
          ++compared;
        }
      UNSCOPED_INFO(dx << " m, " << time << " s: mean " << sum / compared << ", most " << most);
      worst_mean = std::max(worst_mean, sum / compared);
    }
    means.push_back(worst_mean);
  }
  CHECK(means[0] < 0.01);
  figures::record("surface", "plane turned by 30 degrees", "mean difference of depth, cells of 0.5 m",
                  means[0], figures::at_most(0.01));
  figures::record("surface", "plane turned by 30 degrees", "mean difference of depth, cells of 0.25 m",
                  means[1], figures::at_most(0.75 * means[0]));
  CHECK(means[1] < 0.75 * means[0]);
}
