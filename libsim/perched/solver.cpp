#include <lowspot/perched/solver.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/perched/books.hpp>
#include <lowspot/perched/laws.hpp>

namespace lowspot::perched {
namespace {

constexpr double full_within = 1e-3; // m: a table this near the ground lets the pond press on the leakage
constexpr double nothing = 1e-30;    // m: taken for dry, which keeps squares clear of denormal numbers
constexpr double linear_reduction = 1e-3; // Newton's next step corrects the rest
constexpr int most_linear_iterations = 60;
constexpr int whole_steps = 8;       // of Newton, which most often do; then swings are damped
constexpr double reach_growth = 1.5; // while a cell goes on the same way

// Moves the thicknesses of free cells by Newton's step, but no further than their reach, inside 0 and D.
// Returns the largest move [m], and all of them in `moves`.
double move_table(const Balance& b, const Field& free, const Field& change, const Field& reach,
                  Field& saturated, Field& moves) {
  double most = 0;
  for (std::ptrdiff_t k = b.frame.first(); k < b.frame.last(); ++k) {
    if (free[k] == 0) continue;
    const double step = std::clamp(change[k], -reach[k], reach[k]);
    const double wanted = std::clamp(saturated[k] - step, 0.0, b.thickness[k]);
    const double moved = wanted < nothing ? 0 : wanted;
    moves[k] = moved - saturated[k];
    most = std::max(most, std::abs(moves[k]));
    saturated[k] = moved;
  }
  return most;
}

// The balance has corners: where a trench has given all it has, where the table turns from falling to rising.
// Newton may swing about one for ever; so a cell that turns back goes no more than half as far as it came.
void shorten_reach(const Field& change, const Field& moves, Field& reach) {
  for (std::size_t k = 0; k < reach.size(); ++k) {
    if (change[k] * moves[k] > 0) reach[k] = 0.5 * std::abs(moves[k]);
    if (change[k] * moves[k] < 0) reach[k] *= reach_growth;
  }
}

} // namespace

Solver::Solver(const Layer& layer, Options options)
    : layer_(layer), options_(options), balance_(make_balance(layer)), flows_(make_flows(balance_)),
      system_(make_linearised(balance_)), multigrid_(balance_.frame),
      workspace_(make_bicgstab_workspace(balance_.frame)) {
  saturated_.assign(balance_.frame.size(), 0.0);
  change_ = moves_ = reach_ = leakage_ = net_ = saturated_;
  result_.net_water.assign(layer.grid.cells(), 0.0);
  result_.leakage = result_.net_water;
  result_.left_through.assign(layer.outflow_faces.size(), 0.0);
  result_.entered.assign(layer.inflow_faces.size(), 0.0);
}

void Solver::prepare(std::span<const double> saturated, std::span<const double> rising,
                     std::span<const double> falling, std::span<const double> recharge,
                     std::span<const double> head_above, std::span<const Exchange> exchanges, double dt) {
  const std::size_t cells = layer_.grid.cells();
  for (const std::span<const double>& values : {saturated, rising, falling, recharge, head_above})
    if (values.size() != cells) throw std::invalid_argument("perched step: an array does not fit the grid");
  if (!(dt > 0 && std::isfinite(dt)))
    throw std::invalid_argument("perched step: the time step is not a number above zero");
  Balance& b = balance_;
  b.dt = dt;
  b.spreading = dt / b.cell_area;
  for (int j = 0; j < b.frame.ny; ++j) {
    for (int i = 0; i < b.frame.nx; ++i) {
      const std::size_t cell = layer_.grid.index(i, j);
      if (layer_.active[cell])
        prepare_cell(b.frame.index(i, j), cell,
                     {saturated[cell], rising[cell], falling[cell], recharge[cell], head_above[cell]});
    }
  }
  prepare_trades(exchanges);
}

void Solver::prepare_cell(std::ptrdiff_t k, std::size_t cell, const CellInputs& in) {
  Balance& b = balance_;
  // One sum for all: what is not a number, or endless, stays so in it.
  if (!std::isfinite(in.saturated + in.rising + in.falling + in.recharge + in.head_above))
    throw std::invalid_argument("perched step: a thickness, a porosity, recharge or a pond at cell " +
                                std::to_string(cell) + " is not a number");
  b.start[k] = in.saturated < nothing ? 0 : in.saturated;
  b.rising[k] = std::max(0.0, in.rising);
  b.falling[k] = std::max(0.0, in.falling);
  const double content = b.falling[k] * b.start[k];
  if (in.recharge < -content * (1 + 1e-9) - 1e-15)
    throw std::invalid_argument("perched step: more is drawn from a cell than it holds");
  b.supply[k] = std::max(in.recharge, -content);
  const double pond = b.start[k] >= b.thickness[k] - full_within ? std::max(0.0, in.head_above) : 0;
  const Leakage leakage =
      leakage_law(layer_.leakage_conductivity[cell], layer_.leakage_thickness[cell], pond, b.dt);
  b.leakage_constant[k] = leakage.constant;
  b.leakage_slope[k] = leakage.slope;
  saturated_[k] = std::min(b.start[k], b.thickness[k]);
}

void Solver::prepare_trades(std::span<const Exchange> exchanges) {
  Balance& b = balance_;
  const std::size_t cells = layer_.grid.cells();
  b.trades.assign(exchanges.size(), {});
  flows_.traded.assign(exchanges.size(), 0.0);
  for (std::size_t e = 0; e < exchanges.size(); ++e) {
    const Exchange& exchange = exchanges[e];
    if (exchange.cell < 0 || static_cast<std::size_t>(exchange.cell) >= cells)
      throw std::invalid_argument("perched step: an exchange is not on the grid");
    if (!std::isfinite(exchange.conductance + exchange.level) || std::isnan(exchange.available))
      throw std::invalid_argument("perched step: an exchange at cell " + std::to_string(exchange.cell) +
                                  " has a conductance, a level or a volume that is not a number");
    const std::ptrdiff_t k = framed(b.frame, static_cast<std::size_t>(exchange.cell));
    const double depth = b.thickness[k];
    if (depth <= 0 || exchange.conductance <= 0) continue;
    const double level = exchange.level - layer_.tight_elevation[exchange.cell];
    b.trades[e] = {k, exchange.conductance * b.spreading / depth, wall_potential(level, depth),
                   std::max(0.0, exchange.available) / b.cell_area};
  }
}

bool Solver::nothing_to_do() const {
  const Balance& b = balance_;
  for (std::ptrdiff_t k = b.frame.first(); k < b.frame.last(); ++k)
    if (b.start[k] > 0 || b.supply[k] != 0) return false;
  for (const Upslope& face : b.upslopes)
    if (face.at >= 0 && face.saturated > 0) return false;
  return std::none_of(b.trades.begin(), b.trades.end(),
                      [](const Trade& t) { return t.at >= 0 && t.potential > 0 && t.available > 0; });
}

// A table that hardly moves may stand still because the linear solver found no way on: so the balance decides
// as well.
void Solver::solve() {
  constexpr double endless = std::numeric_limits<double>::infinity();
  std::fill(moves_.begin(), moves_.end(), 0.0);
  std::fill(reach_.begin(), reach_.end(), endless);
  double move = endless;
  for (int iteration = 0;; ++iteration) {
    linearise(balance_, saturated_, flows_, system_);
    result_.imbalance = largest(system_.residual);
    const bool solved = move <= options_.tolerance && result_.imbalance <= options_.imbalance;
    if (solved || result_.imbalance == 0 || !std::isfinite(result_.imbalance)) break;
    if (iteration >= options_.newton_iterations) break;
    multigrid_.set(system_.stencil);
    result_.iterations += bicgstab(system_.stencil, multigrid_, system_.residual, change_, linear_reduction,
                                   most_linear_iterations, workspace_);
    ++result_.newton_iterations;
    if (iteration >= whole_steps) shorten_reach(change_, moves_, reach_);
    move = move_table(balance_, system_.free, change_, reach_, saturated_, moves_);
  }
  if (!(result_.imbalance <= options_.imbalance)) // also where it is no number
    throw NumericsError("the perched water finds no balance in a step of " + rounded(balance_.dt, 6) +
                        " s: a cell is off by " + rounded(result_.imbalance * 1000, 6) + " mm of water");
}

void Solver::report(std::span<const Exchange> exchanges) {
  const Frame& frame = balance_.frame;
  for (int j = 0; j < frame.ny; ++j) {
    for (int i = 0; i < frame.nx; ++i) {
      const std::size_t cell = layer_.grid.index(i, j);
      result_.net_water[cell] = net_[frame.index(i, j)];
      result_.leakage[cell] = leakage_[frame.index(i, j)];
    }
  }
  for (std::size_t e = 0; e < exchanges.size(); ++e)
    result_.exchanged[e] = flows_.traded[e] * balance_.cell_area;
  for (std::size_t f = 0; f < flows_.left.size(); ++f)
    result_.left_through[f] = flows_.left[f] * balance_.cell_area;
  for (std::size_t f = 0; f < flows_.entered.size(); ++f)
    result_.entered[f] = flows_.entered[f] * balance_.cell_area;
}

const StepResult& Solver::step(std::span<const double> saturated, std::span<const double> rising,
                               std::span<const double> falling, std::span<const double> recharge,
                               std::span<const double> head_above, std::span<const Exchange> exchanges,
                               double dt) {
  prepare(saturated, rising, falling, recharge, head_above, exchanges, dt);
  result_.iterations = result_.newton_iterations = 0;
  result_.imbalance = 0;
  result_.exchanged.assign(exchanges.size(), 0.0);
  if (nothing_to_do()) {
    for (std::vector<double>* values :
         {&result_.net_water, &result_.leakage, &result_.left_through, &result_.entered})
      std::fill(values->begin(), values->end(), 0.0);
    return result_;
  }
  solve();
  close_books(balance_, saturated_, flows_, leakage_, net_);
  report(exchanges);
  return result_;
}

} // namespace lowspot::perched
