// Steps of the perched zone with memory kept from one to the next.
#pragma once
#include <lowspot/perched/balance.hpp>
#include <lowspot/perched/bicgstab.hpp>
#include <lowspot/perched/multigrid.hpp>
#include <lowspot/perched/perched.hpp>

namespace lowspot::perched {

// The same step as the free function, without setting up the layer every time. Keeps no physical state: each
// step depends on its arguments alone. Not to be shared between threads.
class Solver {
public:
  // Throws std::invalid_argument, see make_balance().
  explicit Solver(const Layer& layer, Options options = {});

  // As step() in perched.hpp; the result is valid until the next call.
  const StepResult& step(std::span<const double> saturated, std::span<const double> rising,
                         std::span<const double> falling, std::span<const double> recharge,
                         std::span<const double> head_above, std::span<const Exchange> exchanges, double dt);

private:
  struct CellInputs {
    double saturated, rising, falling, recharge, head_above;
  };
  void prepare_cell(std::ptrdiff_t k, std::size_t cell, const CellInputs& in);
  void prepare(std::span<const double> saturated, std::span<const double> rising,
               std::span<const double> falling, std::span<const double> recharge,
               std::span<const double> head_above, std::span<const Exchange> exchanges, double dt);
  void prepare_trades(std::span<const Exchange> exchanges);
  bool nothing_to_do() const;
  void solve();
  void report(std::span<const Exchange> exchanges);

  Layer layer_;
  Options options_;
  Balance balance_;
  Flows flows_;
  Linearised system_;
  Multigrid multigrid_;
  BicgstabWorkspace workspace_;
  Field saturated_, change_, moves_, reach_, leakage_, net_;
  StepResult result_;
};

} // namespace lowspot::perched
