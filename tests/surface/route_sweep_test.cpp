#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include <lowspot/surface/route_pool_turns.hpp>
#include <lowspot/surface/route_roots.hpp>
#include <lowspot/surface/route_sweep.hpp>

#include "yards.hpp"

using namespace lowspot::surface;
using namespace yards;

TEST_CASE("the kinematic balance of a cell is solved from any guess", "[route_sweep]") {
  for (const double a : {0.0, 1e-3, 1.0, 1e3, 1e6})
    for (const double b : {1e-8, 1e-4, 1e-2, 1.0})
      for (const double guess : {0.0, 1e-4, 0.01, 0.3, 2.0}) {
        const double y = drained_root(a, b, guess);
        CHECK_THAT(y * y * y * (1 + a * y * y), WithinRel(b, 1e-3));
      }
}

namespace {

// That h [m] is what is left of b in a cell whose level matters, within a small change of the depth.
void check_balance(double a, double own, double drop, double b, double h, double round_off) {
  CAPTURE(a, own, drop, b, h);
  if (own * b + drop <= 0) {
    CHECK_THAT(h, WithinRel(b, round_off));
    return;
  }
  CHECK(h <= b);
  CHECK(own * h + drop >= -round_off * b);
  const double fall = std::max(own * h + drop, 0.0);
  // As a change of the depth: the left side is steep where the fall is nothing.
  const double misfit = h + a * std::pow(h, 5.0 / 3.0) * std::sqrt(fall) - b;
  const double step = 2e-3 * h;
  const double moved = h + step + a * std::pow(h + step, 5.0 / 3.0) * std::sqrt(own * (h + step) + drop) - b;
  CHECK(std::abs(misfit) <= std::abs(moved - misfit));
}

struct Balance {
  float a, own, drop, b, guess;
};

std::vector<Balance> balances() {
  std::vector<Balance> all;
  for (const float a : {1e-3f, 1.0f, 1e3f})
    for (const float own : {0.1f, 0.5f, 1.0f})
      for (const float drop : {-0.05f, -1e-3f, 0.0f, 1e-3f, 0.05f})
        for (const float b : {1e-6f, 1e-3f, 0.03f, 0.4f})
          for (const float guess : {0.0f, 1e-3f, 0.1f, 2.0f}) all.push_back({a, own, drop, b, guess});
  return all;
}

} // namespace

TEST_CASE("so is the balance of a cell whose level matters", "[route_sweep]") {
  for (const Balance& one : balances()) {
    const double root = drained_root(one.a, one.own, one.drop, one.b, one.guess);
    check_balance(one.a, one.own, one.drop, one.b, std::min<double>(root * root * root, one.b), 1e-9);
  }
}

TEST_CASE("far above the profile all of the level counts", "[route_sweep]") {
  int far_above = 0;
  for (const Balance& one : balances())
    for (const double profile : {0.0, 0.002, 0.03}) {
      if (!(one.own > 0)) continue;
      const double far = follows_to * profile + follows_more;
      const double root = drained_root(one.a, one.own, one.drop, one.b, one.guess, profile);
      // By bisection, with the fall as it is up to there and all of what is more.
      double low = 0, high = one.b;
      for (int k = 0; k < 200; ++k) {
        const double h = 0.5 * (low + high);
        const double fall = one.own * std::min(h, far) + one.drop + std::max(h - far, 0.0);
        (h + one.a * std::pow(h, 5.0 / 3) * std::sqrt(std::max(fall, 0.0)) > one.b ? high : low) = h;
      }
      CAPTURE(one.a, one.own, one.drop, one.b, profile);
      CHECK_THAT(root, WithinRel(std::cbrt(0.5 * (low + high)), 1e-5));
      far_above += low > far;
    }
  CHECK(far_above > 20);
}

TEST_CASE("eight balances at once are solved each as if alone", "[route_sweep]") {
  std::vector<Balance> all = balances();
  std::shuffle(all.begin(), all.end(), std::mt19937(11));
  for (std::size_t first = 0; first + lanes <= all.size(); first += lanes) {
    Singles a = {}, own = {}, drop = {}, b = {}, guess = {};
    for (int l = 0; l < lanes; ++l) {
      const Balance& one = all[first + l];
      a[l] = one.a, own[l] = one.own, drop[l] = one.drop, b[l] = one.b, guess[l] = one.guess;
    }
    const Singles y = drained_roots(a, own, drop, b, guess, Ints{} == 0);
    for (int l = 0; l < lanes; ++l) {
      const double root = y[l], most = b[l];
      check_balance(a[l], own[l], drop[l], b[l], std::min(root * root * root, most), 3e-6);
      Ints only = {};
      only[l] = -1;
      CHECK(drained_roots(a, own, drop, b, guess, only)[l] == y[l]);
    }
  }
}

// The root of the same by bisection: the left side rises.
static double bisected(const Balance& one) {
  double low = one.drop < 0 ? std::min<double>(-one.drop / one.own, one.b) : 0, high = one.b;
  for (int k = 0; k < 200; ++k) {
    const double h = 0.5 * (low + high), fall = std::max<double>(one.own * h + one.drop, 0);
    (h + one.a * std::pow(h, 5.0 / 3.0) * std::sqrt(fall) > one.b ? high : low) = h;
  }
  return std::cbrt(0.5 * (low + high));
}

// Among these are cells that end near the level at which nothing falls any more, from guesses far off.
TEST_CASE("balances are solved to a hundred thousandth of the root", "[route_sweep]") {
  std::mt19937 random(5);
  std::uniform_real_distribution<float> unit(0, 1);
  const auto between = [&](float low, float high) {
    return std::pow(10.0f, low + (high - low) * unit(random));
  };
  std::vector<Balance> all = {{238.896912f, 0.165470153f, -0.000361977669f, 0.00219379389f, 0.0110531943f}};
  while (all.size() < 20000) {
    Balance one{between(-4, 5), between(-2, 0.3f), between(-7, -0.5f), between(-7, 0),
                unit(random) < 0.2f ? 0 : between(-2.5f, 0.1f)};
    if (unit(random) < 0.6f) one.drop = -one.drop;
    all.push_back(one);
  }
  for (std::size_t first = 0; first + lanes <= all.size(); first += lanes) {
    Singles a = {}, own = {}, drop = {}, b = {}, guess = {};
    for (int l = 0; l < lanes; ++l) {
      const Balance& one = all[first + l];
      a[l] = one.a, own[l] = one.own, drop[l] = one.drop, b[l] = one.b, guess[l] = one.guess;
    }
    const Singles eight = drained_roots(a, own, drop, b, guess, Ints{} == 0);
    for (int l = 0; l < lanes; ++l) {
      const Balance& one = all[first + l];
      CAPTURE(one.a, one.own, one.drop, one.b, one.guess);
      const double root = bisected(one);
      CHECK(std::abs(drained_root(one.a, one.own, one.drop, one.b, one.guess) - root) <= 1e-5 * root);
      CHECK(std::abs(static_cast<double>(eight[l]) - root) <= 1e-5 * root);
    }
  }
}

TEST_CASE("roots and powers of eight numbers are those of each", "[route_sweep]") {
  for (float x = 1e-12f; x < 1e6f; x *= 1.37f) {
    const Singles eight = x * Singles{1, 1.1f, 1.3f, 1.7f, 2, 3, 5, 7};
    const Singles root = inverse_root(eight), cube = inverse_cube_root(eight),
                  fourth = inverse_fourth_root(eight);
    for (int l = 0; l < lanes; ++l) {
      const double one = eight[l];
      CHECK_THAT(root[l], WithinRel(std::pow(one, -0.5), 4e-7));
      CHECK_THAT(cube[l], WithinRel(std::pow(one, -1.0 / 3), 5e-7));
      CHECK_THAT(fourth[l], WithinRel(std::pow(one, -0.25), 5e-7));
    }
  }
  for (float x = -20; x < 20; x += 0.173f) {
    const Singles eight = x * Singles{1, -1, 0.5f, 0.1f, 0.01f, 2, 0, -2}, power = exponential(eight);
    for (int l = 0; l < lanes; ++l)
      CHECK_THAT(power[l], WithinRel(std::exp(static_cast<double>(eight[l])), 5e-7));
    const Longs pair = together(eight, power);
    for (int l = 0; l < lanes; ++l) {
      CHECK(first_of(pair)[l] == eight[l]);
      CHECK(second_of(pair)[l] == power[l]);
    }
  }
}

TEST_CASE("an even slope flows at normal depth, whatever its direction", "[route_sweep]") {
  // Steady rain on a plane at 45 degrees: along each streamline q = r s, s from the closed edges.
  Terrain terrain = rectangle(24, 24, 0.5, 0.05, [](double x, double y) { return 1 - 0.02 * (x + y); });
  open_side(terrain, 1);
  open_side(terrain, 3);
  const RouteGraph graph(terrain);
  RoutedWater water(graph);
  RoutedPools pools(graph, water);
  RouteSlopes slopes(graph);
  RoutedFaces faces(graph, terrain.open_faces.size());
  const double rain = 50 * mm_per_hour;
  std::fill(water.supply.begin(), water.supply.end(), rain);
  for (int k = 0; k < 200; ++k) {
    order_pools(graph, pools, water);
    sweep_downhill(20, graph, pools, water, slopes, faces);
    sweep_uphill(20, graph, pools, water, slopes);
  }
  const double alpha = std::sqrt(0.02 * std::sqrt(2.0)) / 0.05;
  for (const int j : {4, 6, 8}) { // streamlines that start at the south edge
    const double s = (j + 0.5) * 0.5 * std::sqrt(2.0);
    const double h = std::pow(rain * s / alpha, 0.6);
    CHECK_THAT(water.depth[graph.slot[terrain.grid.index(20, j)]], WithinRel(h, 0.07));
  }
  // The same on both sides of the diagonal.
  for (int i = 0; i < 24; ++i)
    for (int j = 0; j < i; ++j)
      CHECK_THAT(water.depth[graph.slot[terrain.grid.index(i, j)]],
                 WithinRel(water.depth[graph.slot[terrain.grid.index(j, i)]], 1e-9));
}
