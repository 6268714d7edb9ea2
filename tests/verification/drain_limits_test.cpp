// Each link of the chain in turn is made the only one that resists: it must be named, and the head it loses
// must be that of its own law.
#include <algorithm>
#include <cmath>

#include <lowspot/drain/pipe_section.hpp>

#include "catch.hpp"
#include "drain/books.hpp"
#include "figures.hpp"

using namespace lowspot::drain;
using namespace lowspot::drain::testing;

namespace {

// Ten metres of trench to a free end; wide open in every link.
Layout open_trench() {
  Layout layout;
  layout.runs = {straight_run("leg", 0, 10, 99.5, 99.3)};
  layout.runs[0].pipe = {0.15, 0.010, 0.05, 0.61};
  layout.runs[0].stone = {0.38, 1, 0};
  layout.runs[0].cap = {0.001, 0.01};
  layout.runs[0].to = "end";
  layout.outlets = {{"end", OutletKind::daylight, {10, 0}}};
  return layout;
}

// Ponded to 3 cm until nothing changes any more.
void flood(Books& books) {
  std::fill(books.ponded.begin(), books.ponded.end(), 0.03);
  for (int k = 0; k < 400; ++k) {
    books.drain.cap_capacity(books.ponded, 20, books.cap);
    books.run(20);
  }
}

} // namespace

TEST_CASE("only the cap resists: it is named, with its own depth and the water on it") {
  Layout layout = open_trench();
  layout.runs[0].cap = {1e-5, 0.08};
  Books books(layout);
  flood(books);
  const RunState state = books.drain.run_state(0);
  CHECK(state.limit == Limit::cap);
  CHECK_THAT(state.losses.cap, WithinAbs(0.11, 1e-3));
  figures::record("drain", "one link alone resists", "head lost in the cap, m", 0.11, state.losses.cap,
                  figures::amount(1e-3));
}

TEST_CASE("a submerged manifold whose slots alone resist: orifice law") {
  Layout layout = open_trench();
  layout.runs[0].pipe.slot_area = 2e-5;
  layout.outlets[0].kind = OutletKind::submerged;
  layout.outlets[0].level = 99.66; // over the crown all along, so that every slot works under the same head
  layout.runs[0].inverts = {99.5, 99.5};
  Books books(layout);
  flood(books);
  const RunState state = books.drain.run_state(0);
  CHECK(state.limit == Limit::slots);
  // q = Cd A sqrt(2 g h) per metre, A being spread round the pipe.
  const double q = books.drain.outlet_flow(0) / 10;
  const double head = std::pow(q / (0.61 * 2e-5), 2) / (2 * 9.81);
  CHECK_THAT(state.losses.slots, WithinRel(head, 0.001));
  figures::record("drain", "one link alone resists", "in the slots (orifice), m", head, state.losses.slots,
                  figures::share(0.02));
  CHECK(state.losses.slots > 5 * (state.losses.cap + state.losses.stone + state.losses.pipe));
}

TEST_CASE("only the pipe resists: it runs full and is named") {
  Layout layout = open_trench();
  layout.runs[0].pipe = {0.03, 0.015, 0.05, 0.61};
  Books books(layout);
  flood(books);
  const RunState state = books.drain.run_state(0);
  CHECK(state.limit == Limit::pipe);
  CHECK(state.losses.pipe > 0.2);
}

// From its crown at the foot on the grade line rises by Q^2 / K^2, as in Manning's law; what the fall of the
// pipe does not spend of it stands above the crown.
TEST_CASE("a solid pipe that runs full below a trench: Manning's law") {
  Layout layout = open_trench();
  layout.runs[0].to = "tee";
  layout.runs.push_back(solid_run("carrier", 10, 20, 99.3, 99.1));
  layout.runs[1].pipe = {0.03, 0.015, 0, 0};
  layout.runs[1].from = "tee";
  layout.runs[1].to = "end";
  layout.fittings = {{"tee", {10, 0}}};
  layout.outlets[0].at = {20, 0};
  Books books(layout);
  flood(books);
  const RunState state = books.drain.run_state(1);
  CHECK(state.limit == Limit::pipe);
  const double area = 3.14159265358979 / 4 * 0.03 * 0.03;
  const double conveyance = area * std::pow(0.03 / 4, 2.0 / 3.0) / 0.015;
  const double q = books.drain.outlet_flow(0);
  CHECK(q > 1.5 * conveyance * std::sqrt(0.02)); // well over what the fall alone would pass
  const double along = 10 - 0.25;                // from the first station to the foot
  const double lost = along * (std::pow(q / conveyance, 2) - 0.02);
  CHECK_THAT(state.losses.pipe, WithinRel(lost, 0.01));
}

TEST_CASE("only the outlet resists: held under water, it is named with what it holds") {
  Layout layout = open_trench();
  layout.runs[0].inverts = {99.5, 99.48};
  layout.outlets[0].kind = OutletKind::submerged;
  layout.outlets[0].level = 99.98;
  Books books(layout);
  flood(books);
  const RunState state = books.drain.run_state(0);
  CHECK(state.limit == Limit::outlet);
  // 0.5 m over the invert, less what a free end would hold at that flow.
  const double q = books.drain.outlet_flow(0);
  const double free = std::min(critical_depth(0.15, q), normal_depth(0.15, 0.010, 0.002, q));
  CHECK_THAT(state.losses.outlet, WithinAbs(0.5 - free, 5e-3));
  figures::record("drain", "one link alone resists", "at the outlet, m", 0.5 - free, state.losses.outlet,
                  figures::amount(5e-3));
}

TEST_CASE("only the stone resists: fed at its head, with the pipe's openings at its foot") {
  Layout layout = open_trench();
  layout.runs[0].pipe.diameter = 0; // a trench of stone alone
  layout.runs[0].pipe.slot_area = 0;
  layout.runs[0].stone = {0.38, 0.02, 0};
  layout.runs[0].inverts = {99.4, 99.4};
  Books books(layout);
  books.cap[0] = 6e-5;
  for (int k = 0; k < 2000; ++k) books.run(60);
  const RunState state = books.drain.run_state(0);
  CHECK(state.limit == Limit::stone);
  // Dupuit: q = K w (h1^2 - h2^2) / (2 L), between the first station and the last.
  const auto level = books.drain.stone_level();
  const std::size_t last = level.size() - 1;
  const double h1 = level[0] - 99.4, h2 = level[last] - 99.4;
  const double apart = books.drain.stations()[last].distance - books.drain.stations()[0].distance;
  CHECK_THAT(0.02 * 0.3 * (h1 * h1 - h2 * h2) / (2 * apart), WithinRel(6e-5, 0.001));
  figures::record("drain", "one link alone resists", "flow through the stone (Dupuit), L/s", (6e-5) * 1e3,
                  (0.02 * 0.3 * (h1 * h1 - h2 * h2) / (2 * apart)) * 1e3, figures::share(0.03));
  CHECK_THAT(state.losses.stone, WithinAbs(h1 - h2, 1e-6));
}

TEST_CASE("only the fabric resists: what the soil gives waits outside it") {
  Layout layout = open_trench();
  layout.runs[0].fabric = {1.5, 30000};
  Books books(layout);
  std::fill(books.soil.begin(), books.soil.end(), 2e-7);
  for (int k = 0; k < 400; ++k) books.run(60);
  const RunState state = books.drain.run_state(0);
  CHECK(state.limit == Limit::fabric);
  CHECK(state.losses.fabric > 10 * std::max(state.losses.slots, state.losses.stone));
  // Dupuit through the fabric of both walls, Q = k L (H^2 - h^2), with k as clogged and h in the stone.
  double most = 0;
  for (std::size_t i = 0; i < books.soil.size(); ++i) {
    const Station& station = books.drain.stations()[i];
    const double inside = books.drain.stone_level()[i] - station.trench_bottom;
    most = std::max(most, std::sqrt(inside * inside + 2e-7 / (1.5 / 30000 * station.length)) - inside);
  }
  CHECK_THAT(state.losses.fabric, WithinRel(most, 1e-9));
}
