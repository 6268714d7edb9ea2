#include <lowspot/perched/perched.hpp>

#include <lowspot/perched/solver.hpp>

namespace lowspot::perched {

StepResult step(const Layer& layer, std::span<const double> saturated, std::span<const double> rising,
                std::span<const double> falling, std::span<const double> recharge,
                std::span<const double> head_above, std::span<const Exchange> exchanges, double dt,
                const Options& options) {
  return Solver(layer, options).step(saturated, rising, falling, recharge, head_above, exchanges, dt);
}

} // namespace lowspot::perched
