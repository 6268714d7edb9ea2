#include <lowspot/drain/cap_capacity.hpp>

#include <lowspot/drain/cap.hpp>

#include "books.hpp"
#include "catch.hpp"

using namespace lowspot::drain;
using namespace lowspot::drain::testing;

namespace {

constexpr double on_ground = 0.05; // m

// Ten metres of trench whose outlet stands under water, a centimetre over the top of the stone.
Layout drowned_trench(const Cap& cap) {
  Layout layout;
  layout.runs = {straight_run("leg", 0, 10, 99.5, 99.4)};
  layout.runs[0].cap = cap;
  layout.runs[0].to = "end";
  Outlet end;
  end.name = "end";
  end.kind = OutletKind::submerged;
  end.at = {10, 0};
  end.level = 100 - cap.depth + 0.01;
  layout.outlets = {end};
  return layout;
}

// The ground gives a part of what the cap offers for so long [s].
void feed(Books& books, double part, double dt, double time) {
  std::fill(books.ponded.begin(), books.ponded.end(), on_ground);
  for (double t = 0; t < time - 0.5 * dt; t += dt) {
    books.drain.cap_capacity(books.ponded, dt, books.cap);
    for (double& q : books.cap) q *= part;
    books.run(dt);
  }
}

double sum(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0);
}

} // namespace

// Darcy over full stone: what passes is the conductance of the cap times the head over the level below, which
// is the same in steady flow whatever the step and whatever came before.
TEST_CASE("over full stone a cap passes Darcy's flow again once the ground has enough") {
  for (const double conductivity : {2e-4, 2e-3, 5e-2})
    for (const double dt : {1.0, 10.0, 60.0}) {
      CAPTURE(conductivity, dt);
      Books books(drowned_trench({conductivity, 0.05}));
      feed(books, 1, dt, 1200);
      const double before = sum(books.cap);
      feed(books, 0.3, dt, 600);
      feed(books, 1, dt, 600);
      const double risen = books.risen, came_in = books.came_in;
      feed(books, 1, dt, 600);
      CHECK_THAT(sum(books.cap), WithinRel(before, 1e-3));
      double darcy = 0;
      for (const double level : books.drain.stone_level()) {
        REQUIRE(level > 99.95);
        darcy += conductivity * 0.3 * 0.5 / 0.05 * (100 + on_ground - level);
      }
      // The fastest cap loses 0.5 mm of head, half of what blurs the rim over which water rises.
      CHECK_THAT(sum(books.cap), WithinRel(darcy, 1e-3));
      CHECK(books.risen - risen < 1e-3 * (books.came_in - came_in));
      CHECK_THAT(books.misfit(), WithinAbs(0, 1e-12 * books.handled));
    }
}

// While it fills, the stone takes what the law gives for the empty level; over the step in which it becomes
// full, that for as long as there is room and then what passes on.
TEST_CASE("a cap is not asked what the water below does while there is room") {
  Books books(drowned_trench({2e-4, 0.05}));
  std::fill(books.ponded.begin(), books.ponded.end(), on_ground);
  books.drain.cap_capacity(books.ponded, 10, books.cap);
  for (const double q : books.cap) CHECK_THAT(q, WithinRel(2e-4 * 0.15 * 2, 1e-12));
  // Half a day at that rate would be many times the stone.
  books = Books(drowned_trench({2e-4, 0.05}));
  std::fill(books.ponded.begin(), books.ponded.end(), on_ground);
  books.drain.cap_capacity(books.ponded, 43200, books.cap);
  for (const double q : books.cap) CHECK(q < 2e-4 * 0.15 * 1.9);
  books.run(43200);
  CHECK(books.risen < 1e-3 * books.came_in);
}

// Stiffer than any cap there is: some trials do not converge, while the steps, whose inflow is given, all do.
TEST_CASE("a cap as open as no cap is never ends a run") {
  for (const double conductivity : {10.0, 100.0, 1000.0})
    for (const double film : {1e-3, 3e-3, 0.01}) {
      CAPTURE(conductivity, film);
      Books books(drowned_trench({conductivity, 0.05}));
      for (int k = 0; k < 60; ++k) {
        std::fill(books.ponded.begin(), books.ponded.end(), k % 3 == 0 ? 0 : k % 3 * film);
        const double dt = k % 5 < 3 ? 2 : 30;
        REQUIRE_NOTHROW(books.drain.cap_capacity(books.ponded, dt, books.cap));
        for (const double q : books.cap) REQUIRE(std::isfinite(q));
        if (k % 4 == 1)
          for (double& q : books.cap) q *= 0.5;
        books.run(dt);
      }
      CHECK_THAT(books.misfit(), WithinAbs(0, 1e-12 * books.handled + 1e-12));
    }
}

// All that comes falls on a third of the ground, which gives what it is offered: the cap passes Darcy's flow
// for the level under it, of which a third comes. Told only how much that is, the drain took the ground to
// have twice as much at most, and each step offered two thirds of the step before.
TEST_CASE("a cap of which one part finds all that it is offered is offered Darcy's flow") {
  for (const double dt : {30.0, 60.0}) {
    CAPTURE(dt);
    Books books(drowned_trench({5e-2, 0.05}));
    feed(books, 1, dt, 1200);
    const double darcy = sum(books.cap), full = books.drain.stored();
    for (int k = 0; k < 20; ++k) {
      std::fill(books.ponded.begin(), books.ponded.end(), on_ground);
      const double fills =
          (full - books.drain.stored()) / dt; // what comes lifts the level to that of full flow
      books.drain.cap_capacity(books.ponded, dt, books.cap);
      const std::vector<double> offered = books.cap, none(offered.size(), 0.0);
      for (double& q : books.cap) q /= 3;
      books.drain.advance(dt, {books.cap, none, {}, {}, {}, {}, {}, offered}, books.ponded);
      CHECK(sum(offered) > 0.99 * darcy);
      CHECK(sum(offered) < 1.01 * (darcy + fills));
    }
  }
}
