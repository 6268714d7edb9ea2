#include <lowspot/surface/workspace.hpp>

#include <cmath>

#include <lowspot/base/error.hpp>

#include "catch.hpp"
#include "yards.hpp"

using namespace lowspot::surface;
using lowspot::NumericsError;

TEST_CASE("Vegetation bends as water rises", "[surface]") {
  const double thin = 0.3 * 0.3, ratio = 2 * std::log(0.06 / 0.3), height = 0.08;
  CHECK(roughness_at(0.04, thin, ratio, height) == thin);
  CHECK_THAT(roughness_at(0.10, thin, ratio, height),
             WithinRel(0.3 * 0.06, 1e-12)); // half way: geometric mean of n^2
  CHECK_THAT(roughness_at(0.16, thin, ratio, height), WithinRel(0.06 * 0.06, 1e-12));
  CHECK_THAT(roughness_at(5.0, thin, ratio, height), WithinRel(0.06 * 0.06, 1e-12));
  CHECK(roughness_at(5.0, thin, ratio, 0.0) == thin);
}

TEST_CASE("Sills of faces", "[surface]") {
  yards::Terrain terrain = yards::rectangle(4, 3, 1, 0.03, [](double x, double) { return 10 + 0.1 * x; });
  terrain.depression_storage[1] = 0.02;
  terrain.crest_x[2] = 11.0;
  terrain.active[4 + 3] = 0;
  const Workspace work(terrain, {});
  CHECK_THAT(work.datum, WithinRel(10.05, 1e-12));
  CHECK_THAT(work.sill_x[1], WithinRel(0.12, 1e-9)); // the upper bed and what it holds back
  CHECK_THAT(work.sill_x[2], WithinRel(0.95, 1e-9)); // the wall
  CHECK(work.sill_x[0] == no_passage);
  CHECK(work.sill_x[5 + 3] == no_passage); // beside the inactive cell
  CHECK(work.sill_y[4 + 3] == no_passage);
  CHECK((work.walls_x == std::vector<char>{1, 0, 0})); // steps of the bed are none
  CHECK((work.walls_y == std::vector<char>{0, 0, 0}));
}

TEST_CASE("Grounds that cannot be used are refused", "[surface]") {
  const yards::Terrain good = yards::rectangle(4, 3, 1, 0.03, [](double, double) { return 0.0; });
  const auto refused = [&](auto spoil) {
    yards::Terrain terrain = good;
    spoil(terrain);
    CHECK_THROWS_AS(Flow(terrain), NumericsError);
  };
  CHECK_NOTHROW(Flow(good));
  refused([](auto& t) { t.elevation[5] = std::nan(""); });
  refused([](auto& t) { t.manning_n[5] = 0; });
  refused([](auto& t) { t.depression_storage[5] = -1e-3; });
  refused([](auto& t) { t.active.pop_back(); });
  refused([](auto& t) { t.crest_y.pop_back(); });
  refused([](auto& t) { t.open_faces.push_back({99, 1}); });
  refused([](auto& t) { t.open_faces.push_back({5, 1}); }); // between two active cells
  refused([](auto& t) {                                     // the same face twice
    t.open_faces = {{4, 0}, {0, 0}, {4, 0}};
  });
  Options options;
  options.courant = 0;
  CHECK_THROWS_AS(Flow(good, options), NumericsError);
}
