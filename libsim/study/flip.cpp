#include <lowspot/study/flip.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace lowspot::study {
namespace {

double between(double low, double high) {
  return low > 0 ? std::sqrt(low * high) : 0.5 * (low + high);
}

double gap(double low, double high) {
  if (low > 0) return std::log(high / low);
  return high > low ? 1 : 0;
}

} // namespace

Flip find_flip(const std::vector<std::vector<double>>& inputs, std::span<const char> yes) {
  const int draws = static_cast<int>(yes.size());
  const int all_yes =
      static_cast<int>(std::count_if(yes.begin(), yes.end(), [](char one) { return one != 0; }));
  Flip best;
  if (all_yes == 0 || all_yes == draws) return best;
  double widest = 0;
  const int count = static_cast<int>(inputs.front().size());
  for (int input = 0; input < count; ++input) {
    std::vector<int> order(draws);
    std::iota(order.begin(), order.end(), 0);
    std::stable_sort(order.begin(), order.end(),
                     [&](int a, int b) { return inputs[a][input] < inputs[b][input]; });
    int yes_below = 0;
    for (int k = 0; k + 1 < draws; ++k) {
      if (yes[order[k]]) ++yes_below;
      const double low = inputs[order[k]][input], high = inputs[order[k + 1]][input];
      if (high <= low) continue;
      // Wrong if yes is above: those yes below and those no above.
      const int no_above = draws - (k + 1) - (all_yes - yes_below);
      for (const bool above : {true, false}) {
        const int wrong = above ? yes_below + no_above : draws - yes_below - no_above;
        const double width = gap(low, high);
        if (best.input >= 0 && (wrong > best.wrong || (wrong == best.wrong && width <= widest))) continue;
        best = {input, between(low, high), above, wrong};
        widest = width;
      }
    }
  }
  // A value that is wrong as often as saying the same of every draw tells nothing.
  if (best.wrong >= std::min(all_yes, draws - all_yes)) return {};
  return best;
}

} // namespace lowspot::study
