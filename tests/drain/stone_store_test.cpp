#include <lowspot/drain/stone_store.hpp>

#include <cmath>
#include <numbers>

#include "catch.hpp"
#include "layouts.hpp"

using namespace lowspot;
using namespace lowspot::drain;
using namespace lowspot::drain::testing;

namespace {
// Half a metre of stone 0.3 m wide with pores of 0.4, ten metres long, and a pipe of 0.1 m in it from 0.05 m
// on.
StoneStore with_pipe() {
  StoneStore store;
  store.bottom = 99;
  store.top = 99.5;
  store.area = 0.4 * 0.3 * 10;
  store.area_above = 0.06;
  store.bore = 0.1;
  store.bore_bottom = 99.05;
  store.bore_pores = 0.4 * 10;
  return store;
}
} // namespace

TEST_CASE("stone holds its pores without the bore of the pipe") {
  const StoneStore store = with_pipe();
  const double circle = std::numbers::pi / 4 * 0.1 * 0.1;
  CHECK_THAT(stone_volume(store, 99.05), WithinRel(1.2 * 0.05, 1e-12));
  CHECK_THAT(stone_volume(store, 99.10), WithinRel(1.2 * 0.10 - 4 * circle / 2, 1e-12));
  CHECK_THAT(stone_volume(store, 99.15), WithinRel(1.2 * 0.15 - 4 * circle, 1e-12));
  CHECK_THAT(stone_volume(store, 99.5), WithinRel(1.2 * 0.5 - 4 * circle, 1e-12));
  CHECK_THAT(stone_volume(store, 99.7), WithinRel(1.2 * 0.5 - 4 * circle + 0.06 * 0.2, 1e-12));
  CHECK_THAT(stone_area(store, 99.10), WithinRel(1.2 - 4 * 0.1, 1e-12));
  CHECK_THAT(stone_area(store, 99.30), WithinRel(1.2, 1e-12));
  for (const double level : {99.01, 99.0501, 99.08, 99.10, 99.1499, 99.16, 99.4}) {
    CAPTURE(level);
    constexpr double little = 1e-6;
    const double slope =
        (stone_volume(store, level + little) - stone_volume(store, level - little)) / (2 * little);
    CHECK_THAT(stone_area(store, level), WithinRel(slope, 1e-3));
    CHECK_THAT(stone_level_for(store, stone_volume(store, level)), WithinAbs(level, 1e-12));
  }
}

// Held back at its outlet: what was poured in stands in the pipe and in the stone around it at one level.
TEST_CASE("a trench with a pipe fills to the level at which pores and pipe hold what came") {
  Layout layout;
  Run run = straight_run("run", 0, 10, 99.0, 99.0);
  run.bedding = 0.05;
  run.to = "out";
  layout.runs = {run};
  Outlet out;
  out.name = "out";
  out.kind = OutletKind::submerged;
  out.at = {10, 0};
  out.level = 99.9;
  layout.outlets = {out};
  Drain drain(layout, level_ground);
  const std::size_t n = drain.stations().size();
  const std::vector<double> none(n, 0.0), fill(n, 0.4 / 3600 / static_cast<double>(n));
  for (int k = 0; k < 60; ++k) drain.advance(60, {none, fill, none}, none);
  for (int k = 0; k < 60; ++k) drain.advance(60, {none, none, none}, none);
  CHECK_THAT(drain.stored(), WithinRel(0.4, 1e-9));
  const double circle = std::numbers::pi / 4 * 0.1 * 0.1;
  const double level = 98.95 + (0.4 / 10 - (1 - 0.38) * circle) / (0.38 * 0.3); // over the crown
  REQUIRE(level > 99.1);
  // The joint at the outlet and the slot over the crown hold a little, too.
  for (const double stands : drain.stone_level()) CHECK_THAT(stands, WithinAbs(level, 0.003));
}
