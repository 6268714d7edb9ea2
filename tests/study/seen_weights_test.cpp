#include "catch.hpp"

#include <cmath>
#include <numeric>

#include <lowspot/study/seen_weights.hpp>

using namespace lowspot;

TEST_CASE("draws that contradict what was seen are weighted down by their misfit") {
  std::vector<std::string> notes;
  const auto weights = study::weigh_by_seen({{"corner", 30, {30, 45, 20, 90}}}, 4, notes);
  CHECK_THAT(std::accumulate(weights.begin(), weights.end(), 0.0), WithinAbs(4, 1e-12));
  CHECK_THAT(weights[1] / weights[0], WithinRel(std::exp(-0.5), 1e-12)); // half as much again: one scatter
  CHECK_THAT(weights[2] / weights[0], WithinRel(std::exp(-0.5), 1e-12));
  CHECK_THAT(weights[3] / weights[0],
             WithinRel(std::exp(-0.5 * std::pow(std::log(3.0) / std::log(1.5), 2)), 1e-12));
  REQUIRE(notes.size() == 2);
  CHECK_THAT(notes[0], ContainsSubstring("fit what was seen"));
  CHECK_THAT(notes[1], ContainsSubstring("band is rough"));
}

TEST_CASE("what no soil explains leaves the weights equal and is said") {
  std::vector<std::string> notes;
  const auto weights = study::weigh_by_seen({{"corner", 100, {1, 2, 3}}}, 3, notes);
  CHECK(weights == std::vector<double>(3, 1.0));
  REQUIRE(notes.size() == 2);
  CHECK_THAT(notes[0], ContainsSubstring("'corner'"));
  CHECK_THAT(notes[1], ContainsSubstring("No plausible soil"));
  notes.clear();
  // All of them stand to the end of what is looked at.
  CHECK(study::weigh_by_seen({{"corner", 10, {40, 40, 40}}}, 3, notes) == std::vector<double>(3, 1.0));
  REQUIRE(notes.size() == 2);
  CHECK_THAT(notes[0], ContainsSubstring("more than about 40 hours"));
  notes.clear();
  CHECK(study::weigh_by_seen({}, 2, notes) == std::vector<double>(2, 1.0));
  CHECK(notes.empty());
}
