// What a set of plausible soils says of every design. SI throughout; lists by draw are in the order of the
// draws.
#pragma once
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include <lowspot/base/quantity.hpp>

namespace lowspot::results {

// One uncertain input of the site.
struct PlausibleInput {
  std::string key;                      // "soil.yard.topsoil.conductivity"
  std::string name;                     // "conductivity of the topsoil"
  std::optional<Dimension> dimension;   // none: a bare number
  double low = 0, likely = 0, high = 0; // of its band [SI]
  std::vector<double> values;           // one a draw
};

// Of one figure, how much of its spread comes from each input.
struct SpreadShare {
  double share = 0;   // 0..1
  double partial = 0; // partial rank correlation: which way
};

// One figure over all draws, in `unit`.
struct PlausibleFigure {
  std::string design; // its name, or "as is"
  std::string what;   // "standing_hours", "soggy_hours", "peak_flow", "volume", ...
  std::string place;  // area, bed, run or side
  std::string unit;   // "h", "d", "m3/s", "m3", ""
  double main = std::numeric_limits<double>::quiet_NaN(); // of the main run, at the likely values
  double coarse = 0;                                      // the same by the draws' cells and method
  double factor = 1;                // what draws were multiplied by for the difference between the two
  double p10 = 0, p50 = 0, p90 = 0; // of the draws by their weights
  bool open_ended = false;          // at P90 it still stood when the simulated time ended: "more than"
  std::vector<double> values;       // one a draw, factor included
  std::vector<char> open;           // one a draw: still standing at the end
  std::vector<SpreadShare> shares;  // one an input
};

// The value of one input at which a design ceases, or begins, to meet the target.
struct PlausibleFlip {
  int input = -1;          // none: the same answer in all draws
  double value = 0;        // SI
  bool works_above = true; // it meets the target where the input is higher
  int wrong = 0;           // draws on the wrong side of it
};

// How often one design meets the target.
struct PlausibleDesign {
  std::string name;        // of the design, or "as is"
  std::vector<char> works; // one a draw
  int count = 0;           // draws in which it meets the target
  double share = 0;        // of the weight
  PlausibleFlip flip;      // what it hangs on
};

// Something seen, against the yard as it is in each draw.
struct PlausibleSeen {
  std::string name;              // of what was seen, as in the site file
  double hours = 0;              // that it was seen to stand
  std::vector<double> simulated; // h, one a draw
};

// A test that would narrow the answer.
struct NextTest {
  std::string name;                       // "a hole test in the tight layer"
  std::string how;                        // in one sentence
  int input = 0;                          // index in PlausibleStudy::inputs
  double minutes = 0;                     // of work
  double factor_now = 0, factor_then = 0; // P90 over P50 of what it measures, before and after
  double answer_now = 0, answer_then = 0; // the same of the hours of the answer
  bool next = false;                      // the cheapest that is worth it
};

// The study and its answer.
struct PlausibleStudy {
  int draws = 0;                        // 0: none was made
  std::uint64_t seed = 0;               // of the draws
  double cell = 0;                      // m, of the draws
  std::string method;                   // of the water on the ground in the draws: "routed" or "dynamic"
  std::vector<PlausibleInput> inputs;   // what was drawn
  std::vector<double> weights;          // one a draw, mean 1
  double effective = 0;                 // draws of equal weight that say as much
  std::vector<PlausibleDesign> designs; // the yard as it is first
  std::vector<PlausibleFigure> figures; // design by design
  std::vector<PlausibleSeen> seen;      // things seen after rain
  std::vector<NextTest> tests;          // cheapest first
  std::vector<std::string> notes;       // sentences about how it was done
  std::string sentence;                 // the answer
  int runs = 0;                         // that were made
  double seconds = 0;                   // of all runs together
};

} // namespace lowspot::results
