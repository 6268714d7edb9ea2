#include <lowspot/perched/balance.hpp>

#include <cmath>

#include "catch.hpp"
#include "perched/matrices.hpp"
#include "perched/zone.hpp"

using namespace zone;

namespace {

// A balance with every process, away from bounds and bends.
perched::Balance sample(Field& saturated) {
  Scene s = random_scene(4, 6, 5);
  perched::Balance b = perched::make_balance(s.layer);
  b.dt = 3600;
  b.spreading = b.dt / b.cell_area;
  saturated.assign(b.frame.size(), 0.0);
  std::mt19937 generator(9);
  std::uniform_real_distribution<double> unit(0.2, 0.8);
  for (std::ptrdiff_t k = b.frame.first(); k < b.frame.last(); ++k) {
    if (!b.active[k]) continue;
    saturated[k] = b.thickness[k] * unit(generator);
    b.start[k] = b.thickness[k] * unit(generator);
    b.rising[k] = 0.1;
    b.falling[k] = 0.05;
    b.supply[k] = 0.001;
    b.leakage_constant[k] = 1e-4;
    b.leakage_slope[k] = 2e-4;
  }
  for (std::ptrdiff_t k = b.frame.first(); k < b.frame.last(); k += 5)
    if (b.active[k]) b.trades.push_back({k, 0.3, 0.01, 1.0});
  return b;
}

perched::Linearised at(const perched::Balance& b, const Field& saturated) {
  perched::Flows flows = perched::make_flows(b);
  flows.traded.resize(b.trades.size());
  perched::Linearised system = perched::make_linearised(b);
  perched::linearise(b, saturated, flows, system);
  return system;
}

} // namespace

TEST_CASE("The linear system is the derivative of the residual") {
  Field saturated;
  const perched::Balance b = sample(saturated);
  const perched::Linearised system = at(b, saturated);
  const double d = 1e-6;
  for (std::ptrdiff_t k = b.frame.first(); k < b.frame.last(); ++k) {
    if (!b.active[k]) continue;
    Field unit(b.frame.size(), 0.0), column = unit, more = saturated, less = saturated;
    unit[k] = 1;
    multiply(system.stencil, unit, column);
    more[k] += d;
    less[k] -= d;
    const Field up = at(b, more).residual, down = at(b, less).residual;
    for (std::size_t r = 0; r < column.size(); ++r)
      CHECK_THAT((up[r] - down[r]) / (2 * d), WithinAbs(column[r], 1e-6 * (1 + std::abs(column[r]))));
  }
}

TEST_CASE("Empty cells that would lose and full ones that would gain are held") {
  Field saturated;
  perched::Balance b = sample(saturated);
  std::ptrdiff_t empty = b.frame.first(), full = b.frame.last() - 1;
  while (!b.active[empty]) ++empty;
  while (!b.active[full]) --full;
  for (Field* field : {&b.conductivity_east, &b.conductivity_north}) field->assign(field->size(), 0.0);
  b.trades.clear();
  b.start[empty] = saturated[empty] = 0;
  b.supply[empty] = 0; // leaks only
  b.start[full] = saturated[full] = b.thickness[full];
  b.supply[full] = 0.1;
  const perched::Linearised system = at(b, saturated);
  CHECK(system.free[empty] == 0);
  CHECK(system.free[full] == 0);
  CHECK(system.residual[full] == 0);
  CHECK(system.stencil.diagonal[full] == 0);
  b.supply[empty] = 0.1;
  b.supply[full] = 0;
  const perched::Linearised moving = at(b, saturated);
  CHECK(moving.free[empty] == 1);
  CHECK(moving.free[full] == 1);
  CHECK(moving.residual[empty] < 0);
}

TEST_CASE("A trade is the head difference times the mean wetted height") {
  const perched::Trade trade{0, 2.0, 0.5 * 0.1 * 0.1, 0.5};
  CHECK_THAT(perched::trade_flow(trade, 0.3).flow, WithinRel(2.0 * (0.3 - 0.1) * (0.3 + 0.1) / 2, 1e-14));
  CHECK_THAT(perched::trade_flow(trade, 0.3).slope, WithinRel(0.6, 1e-14));
  CHECK(perched::trade_flow(trade, 0.05).flow < 0);
  const perched::Trade poor{0, 2.0, 0.5, 0.01};
  CHECK(perched::trade_flow(poor, 0.1).flow == -0.01);
  CHECK(perched::trade_flow(poor, 0.1).slope == 0);
}

TEST_CASE("What enters from upslope falls as the table rises, at the slope that Newton is told") {
  perched::Layer layer = zone::flat_layer(4, 1, 0.5, 0.6, 1e-5);
  zone::tilt(layer, 0.1);
  layer.inflow_faces = {{0, 0, 0.3}};
  perched::Balance b = perched::make_balance(layer);
  b.dt = 600;
  b.spreading = b.dt / b.cell_area;
  perched::Flows flows = perched::make_flows(b);
  perched::Linearised system = perched::make_linearised(b);
  Field saturated(b.frame.size(), 0.0);
  const std::ptrdiff_t at = b.upslopes[0].at;
  double before = 1e9;
  for (double h : {0.0, 0.02, 0.1, 0.3, 0.5}) {
    saturated[at] = h;
    perched::linearise(b, saturated, flows, system);
    CHECK(flows.entered[0] >= 0);
    CHECK((flows.entered[0] < before || flows.entered[0] == 0));
    before = flows.entered[0];
  }
  saturated[at] = 0.3; // uniform: K H S over the width of the cell
  perched::linearise(b, saturated, flows, system);
  CHECK_THAT(flows.entered[0] * b.cell_area, WithinRel(1e-5 * 0.3 * 0.1 * 0.5 * 600, 1e-12));
}
