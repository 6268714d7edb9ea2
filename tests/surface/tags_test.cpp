// Shares of sources against balances that hold exactly, and their spreading against that of the upwind
// scheme.
#include <lowspot/surface/tags.hpp>

#include <algorithm>
#include <cmath>
#include <random>

#include "catch.hpp"
#include "yards.hpp"

#include <lowspot/base/error.hpp>
#include <lowspot/surface/workspace.hpp>

using namespace lowspot;
using namespace lowspot::surface;
using yards::mm_per_hour;
using yards::Run;

namespace {

double volume_of(const Run& run, int tag) {
  double sum = 0;
  for (std::size_t c = 0; c < run.supply.size(); ++c)
    sum += run.flow.tags()->share(tag)[c] * run.flow.depth()[c];
  return sum * run.flow.terrain().grid.cell_area();
}

// The worst misfit of the sum of shares to one in wet cells, and the least share.
struct Soundness {
  double misfit = 0, least = 1, most = 0;
};
Soundness soundness(const Run& run) {
  Soundness result;
  const Tags& tags = *run.flow.tags();
  for (std::size_t c = 0; c < run.supply.size(); ++c) {
    if (!(run.flow.depth()[c] > 0)) continue;
    double sum = 0;
    for (int tag = 0; tag < tags.count(); ++tag) {
      sum += tags.share(tag)[c];
      result.least = std::min(result.least, tags.share(tag)[c]);
      result.most = std::max(result.most, tags.share(tag)[c]);
    }
    result.misfit = std::max(result.misfit, std::abs(sum - 1));
  }
  return result;
}

FaceSet open_faces_outward(const Terrain& terrain) {
  FaceSet faces;
  for (const OpenFace& open : terrain.open_faces) {
    const int i = terrain.grid.column(open.cell), j = terrain.grid.row(open.cell);
    const bool far = open.side % 2 == 1;
    if (open.side < 2) {
      faces.x_faces.push_back(static_cast<int>(terrain.grid.x_face(i + far, j)));
      faces.x_weights.push_back(far ? 1 : -1);
    } else {
      faces.y_faces.push_back(static_cast<int>(terrain.grid.y_face(i, j + far)));
      faces.y_weights.push_back(far ? 1 : -1);
    }
  }
  return faces;
}

} // namespace

TEST_CASE("Rain on a patio above a lawn leaves in the ratio of their lengths", "[surface]") {
  Terrain terrain = yards::rectangle(60, 3, 0.5, 0.03, [](double x, double) { return -0.01 * x; });
  yards::open_side(terrain, 1);
  Run run(std::move(terrain));
  run.flow.follow_sources(2);
  run.rain(50 * mm_per_hour);
  const int patio = 23; // columns
  yards::tag_supply(run, [&](int c) { return c % 60 < patio ? 0 : 1; });
  run.advance(3600);
  const Tags& tags = *run.flow.tags();
  for (int i = 0; i < 60; ++i) {
    const double expected = i < patio ? 1.0 : static_cast<double>(patio) / (i + 1);
    // Discharges are in single precision, and steady to half its last digit.
    CHECK_THAT(tags.share(0)[60 + i], WithinAbs(expected, 3e-8));
  }
}

TEST_CASE("Two downspouts into one bowl: shares are the ratio of their volumes", "[surface]") {
  Run run(yards::rectangle(24, 20, 0.25, 0.05, [](double x, double y) {
    return 0.02 * ((x - 3) * (x - 3) + (y - 2.5) * (y - 2.5));
  }));
  run.flow.follow_sources(2);
  const double area = 0.25 * 0.25;
  run.supply[3 * 24 + 2] = 0.4e-3 / area;
  run.supply[16 * 24 + 21] = 0.1e-3 / area;
  yards::tag_supply(run, [](int c) { return c == 3 * 24 + 2 ? 0 : 1; });
  run.advance(900);
  run.supply.assign(run.supply.size(), 0.0);
  yards::tag_supply(run, [](int) { return 0; });
  for (int k = 0; k < 20; ++k) {
    run.advance(600);
    CHECK_THAT(volume_of(run, 0), WithinRel(0.4e-3 * 900, 1e-12));
    CHECK_THAT(volume_of(run, 1), WithinRel(0.1e-3 * 900, 1e-12));
  }
  CHECK(run.flow.at_rest());
}

TEST_CASE("In random yards shares sum to one and every source's water is accounted for", "[surface]") {
  for (unsigned seed = 1; seed <= 6; ++seed) {
    CAPTURE(seed);
    Terrain terrain = yards::bumpy(45, 30, seed);
    yards::open_side(terrain, 0);
    if (seed % 2) yards::open_side(terrain, 3);
    const FaceSet out = open_faces_outward(terrain);
    Run run(std::move(terrain));
    run.flow.follow_sources(4);
    run.flow.tags()->watch({{out, {}}});
    double supplied[4] = {};
    for (int k = 0; k < 60; ++k) {
      run.rain(k < 25 ? (10 + 3 * k) * mm_per_hour : 0.0);
      if (k >= 10 && k < 40) run.supply[15 * 45 + 30] += 1e-3;
      const auto tag_of = [&](int c) { return c == 15 * 45 + 30 ? 3 : (c / 45 / 10 + k) % 3; };
      yards::tag_supply(run, tag_of);
      for (std::size_t c = 0; c < run.supply.size(); ++c)
        supplied[tag_of(static_cast<int>(c))] += run.supply[c] * 60 * 0.09;
      run.advance(60);
      const Soundness sound = soundness(run);
      CHECK(sound.misfit < 1e-14);
      CHECK(sound.least >= 0);
      CHECK(sound.most <= 1 + 1e-14);
    }
    for (int tag = 0; tag < 4; ++tag) {
      CHECK(run.flow.tags()->passed_back(0, tag) == 0);
      CHECK_THAT(volume_of(run, tag) + run.flow.tags()->passed(0, tag), WithinRel(supplied[tag], 1e-11));
    }
  }
}

TEST_CASE("Soaking in takes every source in proportion", "[surface]") {
  Run run(yards::rectangle(16, 12, 0.5, 0.03, [](double x, double) { return 0.002 * std::sin(x); }));
  run.flow.follow_sources(2);
  for (int c = 0; c < 16 * 12; ++c) {
    run.flow.give(c, 0.03, 0);
    run.flow.give(c, 0.01, 1);
    run.sink[c] = (c % 16 < 5 ? 20.0 : 3.0) * mm_per_hour;
  }
  yards::tag_supply(run, [](int) { return 0; });
  for (int k = 0; k < 12; ++k) {
    run.advance(600);
    for (std::size_t c = 0; c < run.supply.size(); ++c)
      CHECK_THAT(run.flow.tags()->share(1)[c], WithinAbs(0.25, 1e-13));
  }
  CHECK(run.flow.counters().resting > 0);
  CHECK(run.sunk > 0);
}

TEST_CASE("A level pool mixes only what moves within it", "[surface]") {
  Run run(yards::rectangle(20, 4, 0.5, 0.03, [](double, double) { return 0.0; }));
  run.flow.follow_sources(2);
  for (int c = 0; c < 80; ++c) {
    run.flow.give(c, 0.05, c % 20 < 10 ? 0 : 1);
    run.sink[c] = c % 20 < 10 ? 0.0 : 4 * mm_per_hour; // only the east soaks
  }
  yards::tag_supply(run, [](int) { return 0; });
  run.advance(300);
  const double at_start = 0.05 * 10 * 4 * 0.25;
  run.advance(3 * 3600);
  CHECK(run.flow.at_rest());
  CHECK_THAT(volume_of(run, 0) + volume_of(run, 1), WithinRel(2 * at_start - run.sunk, 1e-12));
  for (int c = 0; c < 80; ++c)
    if (c % 20 < 8) CHECK_THAT(run.flow.tags()->share(0)[c], WithinAbs(1.0, 1e-3));
  // Half of what the east lost came over from the west, mixed into it: S' = (rate / depth) (1 - S) in time,
  // with equal parts flowing in and staying behind. The depth falls alike everywhere: h = h0 - a t, and the
  // east takes in a per time, gives 2 a: (h S)' = a - 2 a S, so h S' = a (1 - S) and 1 - S = h / h0.
  const double depth = run.flow.depth()[15];
  CHECK_THAT(run.flow.tags()->share(1)[15], WithinAbs(depth / 0.05, 2e-3));
}

TEST_CASE("A mirrored yard has mirrored shares", "[surface]") {
  const Terrain ground = yards::bumpy(32, 24, 7);
  Terrain mirrored = ground;
  for (int j = 0; j < 24; ++j)
    for (int i = 0; i < 32; ++i)
      mirrored.elevation[ground.grid.index(i, j)] = ground.elevation[ground.grid.index(31 - i, j)];
  Terrain west = ground;
  yards::open_side(west, 0);
  yards::open_side(mirrored, 1);
  Run a(std::move(west)), b(std::move(mirrored));
  for (Run* run : {&a, &b}) {
    run->flow.follow_sources(2);
    run->rain(40 * mm_per_hour);
  }
  yards::tag_supply(a, [](int c) { return c % 32 < 13 ? 0 : 1; });
  yards::tag_supply(b, [](int c) { return 31 - c % 32 < 13 ? 0 : 1; });
  a.advance(600);
  b.advance(600);
  double worst = 0;
  for (int j = 0; j < 24; ++j)
    for (int i = 0; i < 32; ++i)
      worst = std::max(
          worst, std::abs(a.flow.tags()->share(0)[j * 32 + i] - b.flow.tags()->share(0)[j * 32 + 31 - i]));
  CHECK(worst < 1e-9);
}

// The sources are moved on once in a call of advance(), over what passed in it. A cell that gives less than
// it has then spreads a pulse as the explicit donor-cell scheme does. One that gives C times what it has
// keeps none of it, and passes each part of what it gets on at once with a chance of 1 - 1/C: the way of a
// drop in a call is distributed geometrically, with a mean of C cells and a variance of C (C - 1).
TEST_CASE("A pulse keeps its volume and spreads as the upwind scheme does", "[surface]") {
  const int nx = 800;
  const double cell = 0.25;
  for (const double stretch : {0.8, 3.0}) {
    Terrain terrain = yards::rectangle(nx, 2, cell, 0.03, [](double x, double) { return -0.01 * x; });
    yards::open_side(terrain, 1);
    Run run(std::move(terrain));
    run.flow.follow_sources(2);
    for (int j = 0; j < 2; ++j) run.supply[j * nx] = 4e-3 / cell;
    yards::tag_supply(run, [](int) { return 0; });
    run.advance(1500);
    yards::tag_supply(run, [](int) { return 1; });
    run.advance(10);
    yards::tag_supply(run, [](int) { return 0; });
    const auto variance = [&](double& mean) {
      double sum = 0, first = 0, second = 0;
      for (int i = 0; i < nx; ++i) {
        const double x = (i + 0.5) * cell, part = run.flow.tags()->share(1)[i] * run.flow.depth()[i];
        sum += part;
        first += part * x;
        second += part * x * x;
      }
      mean = first / sum;
      return second / sum - mean * mean;
    };
    run.advance(12);
    double from = 0, to = 0;
    const double before = variance(from);
    const long steps = run.flow.counters().followed;
    const int calls = static_cast<int>(std::lround(120 / stretch));
    for (int k = 0; k < calls; ++k) run.advance(stretch);
    const double after = variance(to);
    CHECK(run.flow.counters().followed - steps == calls);
    CHECK_THAT(volume_of(run, 1), WithinRel(2 * cell * 4e-3 * 10, 1e-12));
    // An explicit donor-cell scheme spreads like a diffusivity u dx (1 - u dt / dx) / 2 (Roache 1972).
    const double speed = (to - from) / 120, passed = speed * stretch / cell;
    CHECK((passed > 1) == (stretch > 1));
    CHECK_THAT(speed, WithinRel(4e-3 / run.flow.depth()[nx / 4], 0.01));
    CHECK_THAT((after - before) / (2 * 120), WithinRel(0.5 * speed * cell * std::abs(1 - passed), 0.02));
  }
}

TEST_CASE("Faces crossed by a gate count each source both ways", "[surface]") {
  Terrain terrain =
      yards::rectangle(20, 1, 0.5, 0.03, [](double x, double) { return 0.01 * std::abs(x - 5); });
  Run run(std::move(terrain));
  run.flow.follow_sources(2);
  FaceSet gate;
  gate.x_faces = {5};
  gate.x_weights = {-1}; // toward the west counts as positive
  run.flow.tags()->watch({{gate, {0, 1, 2, 3, 4}}});
  for (int i = 0; i < 20; ++i) run.supply[i] = i < 5 ? 2e-5 : 0.0;
  yards::tag_supply(run, [](int c) { return c < 3 ? 0 : 1; });
  run.advance(600);
  const Tags& tags = *run.flow.tags();
  double beyond[2] = {};
  for (int tag = 0; tag < 2; ++tag)
    for (int i = 5; i < 20; ++i) beyond[tag] += tags.share(tag)[i] * run.flow.depth()[i] * 0.25;
  for (int tag = 0; tag < 2; ++tag)
    CHECK_THAT(tags.passed_back(0, tag) - tags.passed(0, tag), WithinRel(beyond[tag], 1e-10));
  CHECK(beyond[0] > 0);
}

TEST_CASE("Following sources changes no depth, and a copy follows its own", "[surface]") {
  Terrain terrain = yards::bumpy(30, 20, 3);
  yards::open_side(terrain, 0);
  Run plain(terrain), followed(terrain);
  followed.flow.follow_sources(2);
  for (Run* run : {&plain, &followed}) run->rain(30 * mm_per_hour);
  yards::tag_supply(followed, [](int c) { return c % 2; });
  plain.advance(300);
  followed.advance(300);
  Run copy = followed;
  yards::tag_supply(copy, [](int) { return 0; });
  const double before = volume_of(followed, 1);
  copy.advance(300);
  CHECK(volume_of(followed, 1) == before);
  for (std::size_t c = 0; c < plain.supply.size(); ++c)
    CHECK(plain.flow.depth()[c] == followed.flow.depth()[c]);
}

TEST_CASE("Supplies whose sources are not told are refused", "[surface]") {
  Run run(yards::rectangle(4, 4, 0.5, 0.03, [](double, double) { return 0.0; }));
  CHECK(run.flow.tags() == nullptr);
  run.flow.follow_sources(2);
  run.rain(1e-6);
  CHECK_THROWS_AS(run.advance(1), NumericsError);
  CHECK_THROWS_AS(run.flow.tags()->set_supply({{0, 2, 1e-6}}), NumericsError);
  CHECK_THROWS_AS(run.flow.follow_sources(0), NumericsError);
}

TEST_CASE("Slow water is followed over several steps at once, and keeps its books", "[surface]") {
  Terrain terrain = yards::rectangle(64, 40, 0.25, 0.2, [](double x, double) { return 0.004 * x; });
  yards::open_side(terrain, 0);
  const FaceSet out = open_faces_outward(terrain);
  Run run(std::move(terrain));
  run.flow.follow_sources(3);
  run.flow.tags()->watch({{out, {}}});
  run.rain(40 * mm_per_hour);
  const auto tag_of = [](int c) { return c % 64 < 20 ? 2 : c / 64 < 20 ? 0 : 1; };
  yards::tag_supply(run, tag_of);
  double supplied[3] = {};
  for (std::size_t c = 0; c < run.supply.size(); ++c)
    supplied[tag_of(static_cast<int>(c))] += run.supply[c] * 3600 * 0.0625;
  run.advance(3600);
  const Counters& counters = run.flow.counters();
  CHECK(counters.followed < counters.steps / 2);
  CHECK(soundness(run).misfit < 1e-14);
  for (int tag = 0; tag < 3; ++tag)
    CHECK_THAT(volume_of(run, tag) + run.flow.tags()->passed(0, tag), WithinRel(supplied[tag], 1e-11));
  // What falls on one half of the slope has no way into the other.
  double across = 0;
  for (int j = 0; j < 20; ++j)
    for (int i = 0; i < 64; ++i) across = std::max(across, run.flow.tags()->share(1)[j * 64 + i]);
  CHECK(across < 1e-6);
}

// Water that ran all round a circle in one stretch: every source keeps its volume, all that passed through is
// mixed, and what fed the circle is not.
TEST_CASE("Cells that fed each other round a circle are mixed", "[surface]") {
  Terrain terrain = yards::rectangle(4, 2, 0.5, 0.03, [](double, double) { return 0.0; });
  const Field before = {0.02, 0.01, 0.005, 0.03, 0.01, 0.01, 0, 0.04};
  Tags tags(terrain, 3, before, 0);
  tags.give(1, 0, before[1], 1);
  tags.give(5, 0.005, before[5], 2);
  FaceSet round;
  round.x_faces = {static_cast<int>(terrain.grid.x_face(3, 1))};
  round.x_weights = {1};
  tags.watch({{round, {}}});
  const Frame frame(terrain.grid);
  PassedWater passed;
  passed.clear(frame.size);
  passed.time = 10;
  const double unit = 0.01 * terrain.grid.cell; // 1 cm of a cell
  passed.x[frame.at(1, 0)] = unit;              // 0 feeds the circle 1, 2, 6, 5
  passed.x[frame.at(2, 0)] = 5 * unit;          // 1 to 2
  passed.y[frame.at(2, 1)] = 4 * unit;          // 2 to 6
  passed.x[frame.at(2, 1)] = -3 * unit;         // 6 to 5
  passed.y[frame.at(1, 1)] = -4 * unit;         // 5 to 1
  passed.x[frame.at(3, 1)] = unit;              // 6 to 7
  const Field after = {0.01, 0.01, 0.015, 0.03, 0.01, 0, 0, 0.05};
  Tiles tiles(terrain.grid);
  tiles.changing.assign(tiles.changing.size(), 1);
  tags.begin(tiles);
  tags.step(passed, Field(8, 0.0), after);
  const double in[] = {0.01 + 0.005 + 0.005, 0.01, 0.005}; // m that met in the circle, of each source
  double all = 0;
  for (const double each : in) all += each;
  for (int tag = 0; tag < 3; ++tag) {
    for (const int cell : {1, 2}) CHECK_THAT(tags.share(tag)[cell], WithinRel(in[tag] / all, 1e-13));
    CHECK_THAT(tags.passed(0, tag), WithinRel(0.01 * 0.25 * in[tag] / all, 1e-13));
    CHECK(tags.share(tag)[0] == (tag == 0 ? 1.0 : 0.0));
    double was = 0, is = 0;
    for (int c = 0; c < 8; ++c) is += tags.share(tag)[c] * after[c];
    for (int c = 0; c < 8; ++c)
      was += before[c] * (c == 1 ? tag == 1 : c == 5 ? (tag == 2 || tag == 0) / 2.0 : tag == 0);
    CHECK_THAT(is, WithinRel(was, 1e-13));
  }
}

TEST_CASE("Water that is gone before its sources are followed leaves nothing behind", "[surface]") {
  Run run(yards::rectangle(200, 80, 0.25, 0.03, [](double, double) { return 0.0; }));
  run.flow.follow_sources(2);
  for (int j = 36; j < 44; ++j)
    for (int i = 96; i < 128; ++i) run.flow.give(j * 200 + i, 0.002, 0);
  run.sink.assign(run.sink.size(), 5e-4);
  yards::tag_supply(run, [](int) { return 0; });
  run.advance(20);
  CHECK(run.flow.volume() == 0);
  CHECK(run.flow.counters().followed == 1);
  run.sink.assign(run.sink.size(), 0.0);
  run.rain(40 * mm_per_hour);
  yards::tag_supply(run, [](int) { return 1; });
  run.advance(20);
  CHECK_THAT(volume_of(run, 1), WithinRel(run.flow.volume(), 1e-11));
  CHECK(volume_of(run, 0) < 1e-15);
}
