#include "catch.hpp"

#include <set>

#include <lowspot/base/ledger.hpp>

using namespace lowspot;

TEST_CASE("Moves are booked on both sides") {
  Ledger ledger;
  ledger.open(Store::surface, 1.0);
  ledger.move(Store::rain, Store::surface, 5);
  ledger.move(Store::surface, Store::soil, 2);
  ledger.move(Store::soil, Store::surface, 0.5);
  ledger.move(Store::surface, Store::edges, -0.25); // backwater from beyond the edge
  CHECK(ledger.balance(Store::surface) == Approx(4.75));
  CHECK(ledger.balance(Store::soil) == Approx(1.5));
  CHECK(ledger.balance(Store::rain) == Approx(-5));
  CHECK(ledger.moved(Store::surface, Store::soil) == 2);
  CHECK(ledger.moved(Store::edges, Store::surface) == 0.25);
  CHECK(ledger.received(Store::surface) == Approx(5.75));
  CHECK(ledger.given(Store::surface) == Approx(2));
  CHECK(ledger.opened(Store::surface) == 1);
  CHECK(ledger.misfit(Store::surface, 4.8) == Approx(0.05));
}

TEST_CASE("A million small moves add no error of their own") {
  Ledger ledger;
  const double volume = 0.1;
  for (int k = 0; k < 1000000; ++k) ledger.move(Store::rain, Store::surface, volume);
  // Sums in doubles would be off by about 1e-6 of a move each; extended precision keeps 1e-13 of the whole.
  CHECK_THAT(ledger.balance(Store::surface), WithinRel(1e5, 1e-13));
}

TEST_CASE("Every store has a name of its own and a side") {
  std::set<std::string> names;
  for (int k = 0; k < store_count; ++k) names.insert(store_name(static_cast<Store>(k)));
  CHECK(names.size() == store_count);
  CHECK_FALSE(is_inside(Store::deep_leakage));
  CHECK(is_inside(Store::surface));
  CHECK(is_inside(Store::drain));
}
