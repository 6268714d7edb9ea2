#include <lowspot/surface/flow.hpp>

#include <cmath>
#include <random>

#include <lowspot/base/error.hpp>

#include "catch.hpp"
#include "yards.hpp"

using namespace lowspot::surface;
using lowspot::Field;
using lowspot::NumericsError;
using yards::mm_per_hour;
using yards::Run;

TEST_CASE("Giving and taking water at once", "[surface]") {
  Terrain terrain = yards::rectangle(4, 4, 0.5, 0.03, [](double, double) { return 0.0; });
  terrain.active[3] = 0;
  Flow flow(terrain);
  CHECK(flow.give(5, 0.02) == 0.02);
  CHECK_THAT(flow.volume(), WithinRel(0.005, 1e-12));
  CHECK(flow.give(5, -0.03) == -0.02);
  CHECK(flow.volume() == 0);
  CHECK_THROWS_AS(flow.give(3, 0.01), NumericsError);
  CHECK_THROWS_AS(flow.give(-1, 0.01), NumericsError);
  CHECK_THROWS_AS(flow.give(5, std::nan("")), NumericsError);
}

TEST_CASE("Sources that make no sense are refused", "[surface]") {
  Flow flow(yards::rectangle(4, 4, 0.5, 0.03, [](double, double) { return 0.0; }));
  Field good(16, 0.0), bad(16, 0.0), taken(16), few(15, 0.0);
  bad[7] = -1e-6;
  CHECK_THROWS_AS(flow.advance(10, bad, good, taken), NumericsError);
  CHECK_THROWS_AS(flow.advance(10, good, bad, taken), NumericsError);
  CHECK_THROWS_AS(flow.advance(10, few, good, taken), NumericsError);
  CHECK_THROWS_AS(flow.advance(-1, good, good, taken), NumericsError);
  CHECK_THROWS_AS(flow.advance(std::nan(""), good, good, taken), NumericsError);
  CHECK_NOTHROW(flow.advance(0, good, good, taken));
}

TEST_CASE("Water without end is no water", "[surface]") {
  Field endless(16, 0.0), none(16, 0.0), taken(16);
  endless[5] = std::numeric_limits<double>::infinity();
  for (const Method method : {Method::dynamic, Method::routed}) {
    Options options;
    options.method = method;
    Flow flow(yards::rectangle(4, 4, 0.5, 0.03, [](double, double) { return 0.0; }), options);
    CHECK_THROWS_AS(flow.advance(10, endless, none, taken), NumericsError);
  }
}

// A slab with a building in it, ending where the ground outside is not part of the yard.
static Terrain odd_outline() {
  Terrain terrain =
      yards::rectangle(40, 24, 0.25, 0.02, [](double x, double y) { return 0.5 - 0.02 * x - 0.005 * y; });
  const auto& grid = terrain.grid;
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i) {
      const bool building = i > 10 && i < 16 && j > 8 && j < 14;
      const bool outside = i + j / 2 > 42;
      if (building || outside) terrain.active[grid.index(i, j)] = 0;
    }
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 20; i < grid.nx; ++i) {
      const int c = static_cast<int>(grid.index(i, j));
      if (terrain.active[c] && (i + 1 == grid.nx || !terrain.active[c + 1]))
        terrain.open_faces.push_back({c, 1});
    }
  return terrain;
}

TEST_CASE("Buildings and odd outlines keep water where it belongs", "[surface]") {
  Run run(odd_outline());
  run.rain(60 * mm_per_hour);
  run.advance(900);
  const auto& terrain = run.flow.terrain();
  for (std::size_t c = 0; c < terrain.active.size(); ++c)
    if (!terrain.active[c]) CHECK(run.flow.depth()[c] == 0);
  CHECK(run.out > 0.5 * run.supplied);
  CHECK(std::abs(run.misfit()) < 1e-12 * run.supplied);
  for (const double volume : run.flow.left_through()) CHECK(volume >= 0);
}

TEST_CASE("Walls hold water to their crest", "[surface]") {
  Terrain terrain = yards::rectangle(20, 4, 0.5, 0.03, [](double, double) { return 0.0; });
  for (int j = 0; j < 4; ++j) terrain.crest_x[terrain.grid.x_face(10, j)] = 0.10;
  Run run(std::move(terrain));
  for (int j = 0; j < 4; ++j) run.supply[j * 20 + 2] = 1e-3;
  while (run.flow.depth()[25] < 0.095) {
    run.advance(60);
    CHECK(run.flow.depth()[35] < 1e-9);
  }
  run.advance(600);
  CHECK(run.flow.depth()[35] > 0.01);
  CHECK(std::abs(run.misfit()) < 1e-12);
}

TEST_CASE("Sinks take no more than there is, and all of it", "[surface]") {
  Terrain terrain = yards::rectangle(8, 8, 0.5, 0.03, [](double x, double) { return 0.01 * x; });
  terrain.depression_storage.assign(64, 0.002);
  for (const bool rest : {false, true}) {
    Options options;
    options.allow_rest = rest;
    Run run(terrain, options);
    run.rain(30 * mm_per_hour);
    run.advance(600);
    run.rain(0);
    run.sink.assign(64, 100 * mm_per_hour);
    run.advance(7200);
    CHECK(run.flow.volume() < 1e-15);
    CHECK_THAT(run.sunk, WithinRel(run.supplied, 1e-12));
    for (const double depth : run.flow.depth()) CHECK(depth >= 0);
  }
}

TEST_CASE("A copy goes its own way and comes to the same", "[surface]") {
  Run run(odd_outline());
  run.rain(60 * mm_per_hour);
  run.advance(100);
  Flow copy = run.flow;
  Field taken(run.taken.size());
  copy.advance(100, run.supply, run.sink, taken);
  CHECK(copy.volume() != run.flow.volume());
  run.advance(100);
  CHECK(copy.volume() == run.flow.volume());
  Flow moved = std::move(copy);
  CHECK(moved.volume() == run.flow.volume());
}

// Streams and puddles side by side, rain that comes and goes, ground that soaks here more and there less.
TEST_CASE("The water is the same to the bit whether its sources are followed or not", "[surface]") {
  for (unsigned seed = 1; seed <= 4; ++seed) {
    CAPTURE(seed);
    Terrain terrain = yards::bumpy(110, 50, seed);
    yards::open_side(terrain, 0);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> unit(0, 1);
    Run plain(std::move(terrain));
    for (double& each : plain.sink) each = 40 * mm_per_hour * unit(random);
    Run followed = plain;
    followed.flow.follow_sources(3);
    std::size_t apart = 0;
    for (int k = 0; k < 240; ++k) {
      for (Run* run : {&plain, &followed}) {
        run->rain(k < 120 ? 30 * (k / 20 % 3) * mm_per_hour : 0.0);
        if (k < 60) run->supply[25 * 110 + 90] += 0.02;
      }
      yards::tag_supply(followed, [](int c) { return c % 3; });
      plain.advance(10);
      followed.advance(10);
      for (std::size_t c = 0; c < plain.supply.size(); ++c)
        apart += plain.flow.depth()[c] != followed.flow.depth()[c] || plain.taken[c] != followed.taken[c];
    }
    CHECK(apart == 0);
    CHECK(plain.flow.counters().steps == followed.flow.counters().steps);
    CHECK(plain.out == followed.out);
  }
}
