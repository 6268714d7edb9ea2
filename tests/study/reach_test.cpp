#include "catch.hpp"
#include "figures.hpp"

#include <algorithm>

#include "reach_grounds.hpp"

using namespace reach_grounds;

namespace {
ReachWay way_to(const ReachGround& ground, const Point& start, double invert, std::vector<ReachEnd> ends,
                const site::ReachRules& given = rules()) {
  return find_ways(ground, given, start, invert, {std::move(ends)}).front();
}
double lowest_x(const Polyline& way, double at_y) { // where a way crosses a line of equal y
  for (std::size_t k = 1; k < way.size(); ++k)
    if ((way[k - 1].y - at_y) * (way[k].y - at_y) <= 0 && way[k - 1].y != way[k].y)
      return way[k - 1].x + (at_y - way[k - 1].y) / (way[k].y - way[k - 1].y) * (way[k].x - way[k - 1].x);
  return -1;
}
} // namespace

TEST_CASE("a plane that gives exactly the fall that is needed is in reach; a hair less is not", "[reach]") {
  auto free = rules();
  free.run_out = 100; // only the head needs its cover, as in the hand calculation
  for (const double short_by : {0.0, 0.001}) {
    const double slope = (0.25 - short_by) / 10 + 0.01;
    const ReachGround plane = ground(24, 24, [&](double, double y) { return 3 + slope * y; });
    const ReachWay way = way_to(plane, {6.25, 10.25}, 3 + slope * 10.25 - 0.25, row(plane, 0), free);
    CHECK(way.reach == (short_by > 0 ? Reach::too_little_fall : Reach::by_gravity));
    CHECK_THAT(way.profile.margin, WithinAbs(-short_by, 1e-9));
    figures::record("study", "plane with just the fall needed, or a hair less", "fall to spare, m", -short_by,
                    way.profile.margin, figures::amount(1e-9));
    CHECK_THAT(way.profile.length, WithinAbs(10, 1e-9));
    CHECK(way.way.size() == 2);
  }
}

TEST_CASE("a flat yard has no gravity outlet, and what is missing is cover, pipe and fall", "[reach]") {
  const ReachGround flat = ground(41, 41, [](double, double) { return 2; });
  const ReachWay way = way_to(flat, {10.25, 6.25}, 1.75, row(flat, 0));
  CHECK(way.reach == Reach::too_little_fall);
  CHECK_THAT(way.profile.margin, WithinAbs(-0.25 - 0.01 * 6, 1e-9));
  CHECK_THAT(way.profile.length, WithinAbs(6, 1e-9)); // straight down, the shortest
}

TEST_CASE("a high ridge is passed at its gap, a low one is cut through", "[reach]") {
  for (const double height : {1.0, 0.3}) {
    const ReachGround yard = ground(60, 40, [&](double x, double y) {
      const bool gap = x > 20 && x < 22;
      return 5 + 0.04 * y + (y > 8 && y < 12 && !gap ? height : 0.0) - (y < 2 ? 1.0 : 0.0);
    });
    const Point start{10.25, 15.25};
    const ReachWay way = way_to(yard, start, ground_at(yard, start) - 0.25, row(yard, 0));
    REQUIRE(way.reach == Reach::by_gravity);
    const double crossing = lowest_x(way.way, 10);
    if (height > 0.5) {
      CHECK(crossing > 20);
      CHECK(crossing < 22);
      CHECK(way.profile.deepest_cut < 0.9); // through the ridge it would be 1.2 and more
    } else {
      CHECK_THAT(crossing, WithinAbs(10.25, 0.6));
    }
    // Never dearer than either of the two ways a person would try.
    for (const double x : {10.25, 20.75}) {
      const Polyline plain = {start, {x, 12.25}, {x, 7.75}, {10.25, 0.25}};
      const auto by_hand = lay_pipe(yard, plain, ground_at(yard, start) - 0.25, yard.elevation[0], rules());
      CHECK(way.profile.cost <= by_hand->cost + 1e-9);
    }
  }
}

TEST_CASE("a row of houses is passed between them; a closed one shuts the yard in", "[reach]") {
  ReachGround yard = ground(60, 40, [](double, double y) { return 5 + 0.1 * y; });
  build_over(yard, 0, 8, 18, 12);
  build_over(yard, 20, 8, 30, 12);
  const Point start{6.25, 15.25};
  const double invert = ground_at(yard, start) - 0.25;
  auto given = rules();
  given.run_out = 4;
  ReachWay way = way_to(yard, start, invert, row(yard, 0), given);
  REQUIRE(way.reach == Reach::by_gravity);
  CHECK(lowest_x(way.way, 10) > 18);
  CHECK(lowest_x(way.way, 10) < 20);
  for (std::size_t k = 1; k < way.way.size(); ++k) CHECK(line_is_open(yard, way.way[k - 1], way.way[k]));
  build_over(yard, 0, 8, 30, 12);
  way = way_to(yard, start, invert, row(yard, 0), given);
  CHECK(way.reach == Reach::shut_in);
  CHECK(way.way.empty());
}

TEST_CASE("a ridge all across that must be cut too deep is said to be so, with how deep", "[reach]") {
  const ReachGround yard = ground(30, 40, [](double x, double y) {
    return 5 + (y > 8 && y < 12 ? 1.6 + 0.01 * x : 0.0) - (y < 2 ? 1.0 : 0.0);
  });
  const ReachWay way = way_to(yard, {7.25, 15.25}, 4.75, row(yard, 0));
  CHECK(way.reach == Reach::too_deep);
  CHECK(way.profile.margin > 0);
  CHECK(way.profile.deepest_cut > 1.85); // cover, pipe and ridge
  CHECK(way.profile.deepest_cut < 1.5 * 1.5);
  auto deeper = rules();
  deeper.deepest_cut = 2.5;
  CHECK(way_to(yard, {7.25, 15.25}, 4.75, row(yard, 0), deeper).reach == Reach::by_gravity);
}

TEST_CASE("paving is gone round where that is cheaper", "[reach]") {
  ReachGround yard = ground(40, 40, [](double, double y) { return 5 + 0.05 * y - (y < 2 ? 1.0 : 0.0); });
  for (std::size_t c = 0; c < yard.grid.cells(); ++c) {
    const double x = yard.grid.x(yard.grid.column(c)), y = yard.grid.y(yard.grid.row(c));
    if (x > 6 && x < 12 && y > 6 && y < 12) yard.dearness[c] = 4;
  }
  const Point start{7.25, 15.25};
  const ReachWay way = way_to(yard, start, ground_at(yard, start) - 0.25, row(yard, 0));
  REQUIRE(way.reach == Reach::by_gravity);
  CHECK(way.profile.cost < 1.02 * way.profile.excavation); // straight through it would be 2.2 times
}

TEST_CASE("a mirrored ground has the mirrored way", "[reach]") {
  const auto bumps = [](double x, double y) {
    return 6 + 0.06 * y + 0.4 * std::sin(0.9 * x) * std::cos(0.7 * y) - (y < 2 ? 1.5 : 0.0);
  };
  const ReachGround one = ground(40, 40, bumps);
  const ReachGround other = ground(40, 40, [&](double x, double y) { return bumps(20 - x, y); });
  const ReachWay a = way_to(one, {6.25, 15.25}, ground_at(one, {6.25, 15.25}) - 0.25, row(one, 0));
  const ReachWay b = way_to(other, {13.75, 15.25}, ground_at(other, {13.75, 15.25}) - 0.25, row(other, 0));
  REQUIRE(a.reach == Reach::by_gravity);
  CHECK_THAT(b.profile.cost, WithinRel(a.profile.cost, 2e-3)); // labels within a millimetre are one
  CHECK_THAT(b.profile.length, WithinRel(a.profile.length, 0.02));
}

TEST_CASE("on random grounds no way with one corner is much cheaper, or reaches where none was found",
          "[reach]") {
  // Every cell as the corner, every end: what find_ways() answers has as many corners as it likes and so must
  // not be worse, but for what its search leaves to chance.
  std::mt19937 engine(5);
  const auto draw = [&](double low, double high) { return low + (high - low) * engine() / 4294967296.0; };
  int reached = 0, dearer = 0, missed = 0;
  double dearest = 0;
  for (int trial = 0; trial < 80; ++trial) {
    const double high = draw(0.1, 0.4), wide = draw(0.4, 1.2), phase = draw(0, 6), fall = draw(0.01, 0.08);
    ReachGround yard = ground(16, 16, [&](double x, double y) {
      return 10 + fall * y + high * (std::sin(wide * x + phase) * std::cos(wide * y) + std::sin(2 * x - y));
    });
    if (trial % 2 == 0) build_over(yard, 2, 3, draw(3, 6), 4.2);
    auto with = rules();
    with.deepest_cut = draw(0.6, 1.2);
    const auto ends = row(yard, 0);
    const Point start{yard.grid.x(static_cast<int>(draw(2, 14))), yard.grid.y(14)};
    const double invert = yard.elevation[cell_at(yard.grid, start.x, start.y)] - with.cover - with.pipe;
    double cheapest = 1e9, spare = -1e9;
    for (const ReachEnd& end : ends)
      for (std::size_t c = 0; c < yard.grid.cells(); ++c) {
        const Point corner{yard.grid.x(yard.grid.column(c)), yard.grid.y(yard.grid.row(c))};
        if (distance(corner, start) < 1e-6 || distance(corner, end.at) < 1e-6) continue;
        const auto profile = lay_pipe(yard, {start, corner, end.at}, invert, end.level, with);
        if (!profile || profile->deepest_cut > with.deepest_cut) continue;
        spare = std::max(spare, profile->margin);
        if (profile->margin >= 0) cheapest = std::min(cheapest, profile->cost);
      }
    if (cheapest > 1e8) continue;
    ++reached;
    const ReachWay found = find_ways(yard, with, start, invert, {ends})[0];
    if (found.reach != Reach::by_gravity) {
      missed += spare > 0.003;
      continue;
    }
    dearest = std::max(dearest, found.profile.cost / cheapest);
    dearer += found.profile.cost > 1.03 * cheapest;
  }
  CAPTURE(reached, dearest);
  CHECK(reached > 40);
  CHECK(missed == 0);
  CHECK(dearer * 20 <= reached);
}
