#include "catch.hpp"

#include "reach_grounds.hpp"

#include <lowspot/study/reach_labels.hpp>

using namespace reach_grounds;

namespace {
int cell(const ReachGround& ground, int i, int j) {
  return static_cast<int>(ground.grid.index(i, j));
}
} // namespace

TEST_CASE("on level ground the invert is the start's less the least fall over the way") {
  const ReachGround flat = ground(21, 21, [](double, double) { return 5; });
  const ReachLabels labels = highest_labels(flat, rules(), cell(flat, 10, 10), 4.75);
  const auto invert = [&](int i, int j) { return labels.labels[labels.first[cell(flat, i, j)]].invert; };
  CHECK_THAT(invert(20, 10), WithinAbs(4.75 - 0.01 * 5, 1e-12));
  CHECK_THAT(invert(20, 20), WithinAbs(4.75 - 0.01 * 5 * std::sqrt(2.0), 1e-12));
  CHECK_THAT(invert(20, 15), WithinAbs(4.75 - 0.01 * 2.5 * std::sqrt(5.0), 1e-12));
  const Polyline way = labels.way_to(labels.first[cell(flat, 20, 10)], flat.grid);
  CHECK_THAT(way.front().x, WithinAbs(5.25, 1e-12));
  CHECK_THAT(way.back().x, WithinAbs(10.25, 1e-12));
}

TEST_CASE("the cheap labels of a cell rise in cost and in invert, and none is too deep") {
  const ReachGround bumps =
      ground(30, 30, [](double x, double y) { return 5 + 0.4 * std::sin(x) * std::cos(1.3 * y) - 0.02 * x; });
  const ReachLabels labels = cheapest_labels(bumps, rules(), cell(bumps, 3, 3), 4.2, 1.2, 0);
  std::size_t several = 0;
  for (std::size_t c = 0; c < bumps.grid.cells(); ++c) {
    for (int k = labels.first[c]; k >= 0; k = labels.labels[k].next) {
      const ReachLabel& label = labels.labels[k];
      CHECK(bumps.elevation[c] - label.invert <= 1.2);
      if (label.before >= 0) CHECK(bumps.elevation[c] - label.invert >= 0.25 - 1e-12);
      if (label.next < 0) continue;
      ++several;
      CHECK(labels.labels[label.next].cost <= label.cost);
      CHECK(labels.labels[label.next].invert < label.invert);
    }
  }
  CHECK(several > 0);
}
