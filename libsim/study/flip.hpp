// The value of one input at which an answer turns from yes to no.
#pragma once
#include <functional>
#include <span>
#include <vector>

namespace lowspot::study {

struct Flip {
  int input = -1;        // -1: none, the answer is the same in all draws
  double value = 0;      // in the input's own unit
  bool yes_above = true; // yes where the input is higher than that
  int wrong = 0;         // draws on the wrong side: others decide there, too
};

// The one input and the value that part yes from no best: fewest draws on the wrong side, and of equals the
// one with the widest gap (as a ratio) between the draws on either side. The value is the geometric mean of
// those two draws, or their mean where one is not positive. inputs: one list a draw.
Flip find_flip(const std::vector<std::vector<double>>& inputs, std::span<const char> yes);

// Narrows a flip between two values of one input with the others held: yes at one end and not at the other,
// which `answer` is taken to be. Halves the logarithm (the value where `low` is not positive) until the ends
// differ by less than `ratio`, e.g. 1.1; returns the middle.
double narrow_flip(double low, double high, double ratio, const std::function<bool(double value)>& answer,
                   bool yes_above);

} // namespace lowspot::study
