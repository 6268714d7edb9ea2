#include "catch.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include <lowspot/measure/several_holes.hpp>

using namespace lowspot::measure;

namespace {
double width(const Range& band) {
  return std::log(band.high / band.low);
}
Range hole(double likely) {
  return {likely / 1.6, likely, likely * 1.3};
}
} // namespace

TEST_CASE("One hole: its own doubt and a tenfold spread of the ground") {
  const Together one = combine(std::vector<Range>{hole(1e-6)});
  CHECK_THAT(one.spread, WithinRel(assumed_spread, 1e-12));
  CHECK_THAT(one.average.likely, WithinRel(1e-6, 1e-12));
  const double down = std::sqrt(std::pow(1.2816 * assumed_spread, 2) + std::pow(std::log(1.6), 2));
  CHECK_THAT(one.average.low, WithinRel(1e-6 * std::exp(-down), 1e-12));
  CHECK(one.anywhere.low < one.average.low);
  CHECK(one.next_narrows > worth_digging);
}

TEST_CASE("The value between holes is their geometric mean") {
  const Together two = combine(std::vector<Range>{hole(1e-7), hole(1e-5)});
  CHECK_THAT(two.average.likely, WithinRel(1e-6, 1e-12));
  CHECK(two.spread > assumed_spread);
}

TEST_CASE("Bands narrow with every hole, the one for any place no further than the ground varies") {
  double average = 1e9, anywhere = 1e9;
  for (int n : {1, 2, 3, 5, 10, 100, 1000}) {
    // Half of the holes a factor of 3 either side of 1e-6: a scatter that does not go away.
    std::vector<Range> holes;
    for (int k = 0; k < n; ++k) holes.push_back(hole(n == 1 ? 1e-6 : k % 2 ? 3e-6 : 1e-6 / 3));
    const Together all = combine(holes);
    CHECK(width(all.average) < average);
    CHECK(width(all.anywhere) > 2 * 1.2816 * all.spread);
    CHECK(width(all.anywhere) > width(all.average));
    average = width(all.average);
    anywhere = width(all.anywhere);
  }
  CHECK(average > std::log(1.6 * 1.3) * 0.99); // what all holes share does not average out
  CHECK(anywhere > 2 * 1.2816 * std::log(3));  // the scatter of the holes
}

TEST_CASE("Another hole is worth less and less, and less where holes agree") {
  double previous = 1;
  for (int n : {1, 2, 3, 4, 6}) {
    const Together all = combine(std::vector<Range>(static_cast<std::size_t>(n), hole(1e-6)));
    CHECK(all.next_narrows < previous);
    previous = all.next_narrows;
  }
  const Together agree = combine(std::vector<Range>{hole(1e-6), hole(1e-6), hole(1e-6)});
  const Together differ = combine(std::vector<Range>{hole(1e-7), hole(1e-6), hole(1e-5)});
  CHECK(agree.next_narrows < differ.next_narrows);
  CHECK(width(agree.anywhere) < width(differ.anywhere));
}

TEST_CASE("Shifting all holes by a factor shifts the bands and nothing else") {
  const std::vector<Range> slow{hole(2e-7), hole(5e-7), hole(9e-7)};
  std::vector<Range> fast = slow;
  for (Range& each : fast) each = {each.low * 40, each.likely * 40, each.high * 40};
  const Together a = combine(slow), b = combine(fast);
  CHECK_THAT(b.anywhere.low / a.anywhere.low, WithinRel(40, 1e-12));
  CHECK_THAT(b.average.high / a.average.high, WithinRel(40, 1e-12));
  CHECK_THAT(b.spread, WithinRel(a.spread, 1e-12));
}

TEST_CASE("Nothing to combine, or bands out of order, are refused") {
  CHECK_THROWS_AS(combine(std::vector<Range>{}), std::invalid_argument);
  CHECK_THROWS_AS(combine(std::vector<Range>{{2, 1, 3}}), std::invalid_argument);
  CHECK_THROWS_AS(combine(std::vector<Range>{{0, 1, 3}}), std::invalid_argument);
  CHECK_THROWS_AS(combine(std::vector<Range>{{1, 2, std::numeric_limits<double>::infinity()}}),
                  std::invalid_argument);
}
