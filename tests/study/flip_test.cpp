#include "catch.hpp"

#include <cmath>

#include <lowspot/study/draws.hpp>
#include <lowspot/study/flip.hpp>

using namespace lowspot;

TEST_CASE("the flip of a step is found at the right input, between the draws on either side") {
  for (const bool above : {true, false}) {
    std::vector<std::vector<double>> inputs;
    std::vector<char> yes;
    double low = 0, high = 1;
    for (const auto& row : study::stratified(40, 3, 5)) {
      inputs.push_back(row);
      yes.push_back((row[1] > 0.3) == above);
      if (row[1] <= 0.3) low = std::max(low, row[1]);
      if (row[1] > 0.3) high = std::min(high, row[1]);
    }
    const study::Flip flip = study::find_flip(inputs, yes);
    CHECK(flip.input == 1);
    CHECK(flip.yes_above == above);
    CHECK(flip.wrong == 0);
    CHECK_THAT(flip.value, WithinAbs(std::sqrt(low * high), 1e-12));
    CHECK_THAT(flip.value, WithinAbs(0.3, 0.05));
  }
}

TEST_CASE("exceptions are counted, and an answer that never changes has no flip") {
  const std::vector<std::vector<double>> inputs{{1}, {2}, {3}, {4}, {5}, {6}};
  const study::Flip flip = study::find_flip(inputs, std::vector<char>{0, 0, 1, 0, 1, 1});
  CHECK(flip.wrong == 1);
  CHECK(flip.yes_above);
  CHECK(study::find_flip(inputs, std::vector<char>(6, 1)).input == -1);
  CHECK(study::find_flip(inputs, std::vector<char>(6, 0)).input == -1);
}

TEST_CASE("a value that is wrong as often as one answer for all draws is none") {
  const std::vector<std::vector<double>> inputs{{1}, {2}, {3}, {4}, {5}, {6}};
  // "Always yes" is wrong once, the best value as often.
  CHECK(study::find_flip(inputs, std::vector<char>{1, 1, 0, 1, 1, 1}).input == -1);
  CHECK(study::find_flip(inputs, std::vector<char>{0, 0, 1, 0, 0, 0}).input == -1);
  CHECK(study::find_flip(inputs, std::vector<char>{0, 1, 1, 1, 1, 1}).wrong == 0);
}
