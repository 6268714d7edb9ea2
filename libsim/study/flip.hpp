// The value of one input at which an answer turns from yes to no.
#pragma once
#include <span>
#include <vector>

namespace lowspot::study {

// Where an answer turns.
struct Flip {
  int input = -1;        // -1: none, or none that tells more than saying the same of all draws
  double value = 0;      // in the input's own unit
  bool yes_above = true; // yes where the input is higher than that
  int wrong = 0;         // draws on the wrong side: others decide there, too
};

// The one input and the value that part yes from no best: fewest draws on the wrong side, and of equals the
// one with the widest gap (as a ratio) between the draws on either side. The value is the geometric mean of
// those two draws, or their mean where one is not positive. inputs: one list a draw.
Flip find_flip(const std::vector<std::vector<double>>& inputs, std::span<const char> yes);

} // namespace lowspot::study
