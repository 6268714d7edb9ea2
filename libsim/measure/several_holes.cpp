#include <lowspot/measure/several_holes.hpp>

#include <cmath>
#include <stdexcept>

namespace lowspot::measure {
namespace {
constexpr double to_tenth = 1.2816; // standard deviations from the median to P10 and P90

double squared(double value) {
  return value * value;
}
} // namespace

Together combine(std::span<const Range> holes) {
  if (holes.empty()) throw std::invalid_argument("no holes to combine");
  const auto n = static_cast<double>(holes.size());
  double mean = 0, shared_down = 0, shared_up = 0;
  for (const Range& hole : holes) {
    if (!(hole.low > 0 && hole.low <= hole.likely && hole.likely <= hole.high && std::isfinite(hole.high)))
      throw std::invalid_argument("a band of conductivities out of order");
    mean += std::log(hole.likely) / n;
    shared_down += std::log(hole.likely / hole.low) / n;
    shared_up += std::log(hole.high / hole.likely) / n;
  }
  double squares = 0;
  for (const Range& hole : holes) squares += squared(std::log(hole.likely) - mean);

  Together result;
  result.holes = static_cast<int>(holes.size());
  result.spread = std::sqrt((assumed_weight * squared(assumed_spread) + squares) / (assumed_weight + n - 1));
  const auto band = [&](double variance_between) {
    const double between = squared(to_tenth) * variance_between;
    return Range{std::exp(mean - std::sqrt(between + squared(shared_down))), std::exp(mean),
                 std::exp(mean + std::sqrt(between + squared(shared_up)))};
  };
  const double variance = squared(result.spread);
  result.anywhere = band(variance * (1 + 1 / n));
  result.average = band(variance / n);
  const Range next = band(variance / (n + 1));
  result.next_narrows =
      1 - std::log(next.high / next.low) / std::log(result.average.high / result.average.low);
  return result;
}

} // namespace lowspot::measure
