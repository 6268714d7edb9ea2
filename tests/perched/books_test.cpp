#include <lowspot/perched/books.hpp>

#include "catch.hpp"
#include "perched/zone.hpp"

using namespace zone;

namespace {

struct Row {
  perched::Balance balance;
  perched::Flows flows;
  Field leakage, net;
};

Row row(int cells) {
  Row r;
  perched::Layer layer = flat_layer(cells, 1, 1.0, 0.5, 1e-5);
  layer.tight_elevation = Field(cells, 0.0);
  for (int i = 0; i < cells; ++i) layer.tight_elevation[i] = -0.1 * i;
  layer.outflow_faces = {{cells - 1, 1}};
  r.balance = perched::make_balance(layer);
  r.balance.dt = 1;
  r.balance.spreading = 1;
  r.flows = perched::make_flows(r.balance);
  r.leakage.assign(r.balance.frame.size(), 0.0);
  r.net = r.leakage;
  for (int i = 0; i < cells; ++i) {
    const std::ptrdiff_t k = r.balance.frame.index(i, 0);
    r.balance.start[k] = 0.1;
    r.balance.falling[k] = r.balance.rising[k] = 0.1;
  }
  return r;
}

} // namespace

TEST_CASE("Overdrafts are cut down the whole chain, and nothing is lost") {
  Row r = row(6);
  const double held = 0.1 * 0.1;
  for (int i = 0; i < 5; ++i)
    r.flows.east[r.balance.frame.index(i, 0)] = 10 * held; // each passes on ten times
  r.flows.left[0] = 10 * held;
  perched::close_books(r.balance, r.balance.start, r.flows, r.leakage, r.net);
  double sum = 0;
  for (int i = 0; i < 6; ++i) {
    const double net = r.net[r.balance.frame.index(i, 0)];
    CHECK(net >= -held);
    sum += net;
  }
  CHECK_THAT(sum, WithinAbs(-r.flows.left[0], 1e-16));
  CHECK_THAT(r.flows.left[0], WithinRel(6 * held, 1e-9)); // all there was, and it could all get out
}

TEST_CASE("A ring that passes on more than it holds is brought to what it holds") {
  Row r = row(2);
  r.balance.trades = {{r.balance.frame.index(0, 0), 1, 0, 1}, {r.balance.frame.index(1, 0), 1, 0, 1}};
  r.flows.traded = {0.05, -0.02};
  perched::close_books(r.balance, r.balance.start, r.flows, r.leakage, r.net);
  CHECK_THAT(r.flows.traded[0], WithinRel(0.01, 1e-12));
  CHECK(r.flows.traded[1] == -0.02);
  CHECK_THAT(r.net[r.balance.frame.index(0, 0)], WithinAbs(-0.01, 1e-15));
  CHECK_THAT(r.net[r.balance.frame.index(1, 0)], WithinAbs(0.02, 1e-15));
}

TEST_CASE("Leakage yields before anything else") {
  Row r = row(1);
  const std::ptrdiff_t k = r.balance.frame.index(0, 0);
  r.balance.leakage_constant[k] = 1;
  r.flows.left[0] = 0.004;
  perched::close_books(r.balance, r.balance.start, r.flows, r.leakage, r.net);
  CHECK(r.flows.left[0] == 0.004);
  CHECK_THAT(r.leakage[k], WithinRel(0.006, 1e-12));
  CHECK_THAT(r.net[k], WithinRel(-0.01, 1e-12));
}

TEST_CASE("A cell that loses all it holds loses not a bit more") {
  // Content and gain added and taken off again may come out a last digit below: nothing of that may show.
  std::mt19937 generator(11);
  std::uniform_real_distribution<double> unit(0, 1);
  Row r = row(1);
  const std::ptrdiff_t k = r.balance.frame.index(0, 0);
  r.balance.leakage_constant[k] = 10;
  for (int n = 0; n < 1000; ++n) {
    r.balance.start[k] = unit(generator);
    r.balance.falling[k] = unit(generator);
    const double content = r.balance.falling[k] * r.balance.start[k];
    r.balance.supply[k] = unit(generator);
    r.flows.left[0] = unit(generator) * (content + r.balance.supply[k]);
    perched::close_books(r.balance, r.balance.start, r.flows, r.leakage, r.net);
    REQUIRE(r.net[k] >= -content);
    REQUIRE_THAT(r.net[k], WithinAbs(-content, 1e-15)); // of up to 2 m that come and go
  }
}
