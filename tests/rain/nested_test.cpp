#include "catch.hpp"
#include "figures.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>

#include <lowspot/rain/nested.hpp>

using namespace lowspot::rain;

namespace {
// depth = c t^0.25, whose log-log interpolation is exact.
DepthDuration power_curve() {
  DepthDuration curve;
  for (double minutes : {5, 15, 30, 60, 360, 1440}) {
    curve.duration.push_back(minutes * 60);
    curve.depth.push_back(0.01 * std::pow(minutes, 0.25));
  }
  return curve;
}
} // namespace

TEST_CASE("Between the entries the curve is straight in logarithms, below them of constant intensity") {
  const DepthDuration curve = power_curve();
  for (double minutes : {5.0, 7.0, 45.0, 100.0, 1440.0, 2880.0})
    CHECK(curve.at(minutes * 60) == Approx(0.01 * std::pow(minutes, 0.25)).epsilon(1e-12));
  CHECK(curve.at(60) == Approx(curve.depth[0] / 5));
  CHECK(curve.at(0) == 0);
}

TEST_CASE("Every centred duration holds the depth of the curve, and the whole is exact") {
  for (const DepthDuration& curve : {power_curve(), usual_curve(0.05, 6 * 3600)}) {
    for (double hours : {0.5, 1.0, 6.0, 24.0}) {
      for (double block : {300.0, 420.0}) { // even and odd counts
        const double duration = hours * 3600;
        const std::vector<double> blocks = alternating_blocks(curve, duration, block);
        const double step = duration / static_cast<double>(blocks.size());
        CHECK(std::accumulate(blocks.begin(), blocks.end(), 0.0) ==
              Approx(curve.at(duration)).epsilon(1e-12));
        // The window grows from the heaviest block to the right and left in turn.
        const auto peak = std::max_element(blocks.begin(), blocks.end()) - blocks.begin();
        CHECK(peak == static_cast<long>(blocks.size() / 2));
        long left = peak, right = peak + 1;
        double sum = blocks[static_cast<std::size_t>(peak)];
        for (std::size_t k = 1; k <= blocks.size(); ++k) {
          const double exact = curve.at(static_cast<double>(k) * step);
          CHECK(sum <= exact * (1 + 1e-12));
          CHECK(sum >= exact * (1 - 1e-4)); // the usual curve bends upwards at 180 min
          if (k == blocks.size()) break;
          sum += k % 2 == 1 && left > 0 ? blocks[static_cast<std::size_t>(--left)]
                                        : blocks[static_cast<std::size_t>(right++)];
        }
      }
    }
  }
}

// The heaviest stretch of a number of blocks, wherever it lies.
double heaviest(const std::vector<double>& blocks, std::size_t count) {
  double most = 0;
  for (std::size_t first = 0; first + count <= blocks.size(); ++first)
    most = std::max(most, std::accumulate(blocks.begin() + static_cast<long>(first),
                                          blocks.begin() + static_cast<long>(first + count), 0.0));
  return most;
}

TEST_CASE(
    "No stretch of a nested storm passes its curve, and those of its entries meet it, where logarithms bend "
    "upwards") {
  // In logarithms straight at 0.13 to 180 min and at 0.20 beyond it, while the means fall all along.
  DepthDuration curve{{300, 600, 900, 1800, 3600, 7200, 10800, 21600},
                      {0.44, 0.70, 0.90, 1.30, 1.70, 2.00, 2.11, 2.42}};
  // And the usual shape below 30 min, which ends at 0.47, where this one goes on at 0.58.
  const DepthDuration from_half_an_hour = with_usual_bursts({{1800, 3600, 21600}, {1.0, 1.49, 2.4}});
  for (const DepthDuration& one : {curve, from_half_an_hour}) {
    const std::vector<double> blocks = alternating_blocks(one, 6 * 3600, 300);
    REQUIRE(blocks.size() == 72);
    for (std::size_t count = 1; count <= 72; ++count) {
      const double seconds = 300.0 * static_cast<double>(count), exact = one.at(seconds);
      const bool entry = std::find(one.duration.begin(), one.duration.end(), seconds) != one.duration.end();
      CAPTURE(seconds / 60);
      CHECK(heaviest(blocks, count) <= exact * (1 + 1e-12));
      CHECK(heaviest(blocks, count) >= exact * (entry ? 1 - 1e-12 : 0.98));
    }
  }
}

TEST_CASE("An entry at which the means themselves rise is passed by the steady rain beyond it and no more") {
  // 0.09 from 2 to 3 h, 0.33 in the three hours beyond: an hour of those comes first.
  const DepthDuration curve{{300, 1800, 3600, 7200, 10800, 21600}, {0.45, 1.32, 1.72, 2.00, 2.09, 2.42}};
  const std::vector<double> blocks = alternating_blocks(curve, 6 * 3600, 300);
  CHECK(heaviest(blocks, 36) == Approx(2.00 + 0.33 / 3).epsilon(1e-12));
  for (const std::size_t entry : {1, 6, 12, 24, 72})
    CHECK(heaviest(blocks, entry) == Approx(curve.at(300.0 * static_cast<double>(entry))).epsilon(1e-12));
}

TEST_CASE("On a smooth curve the depth in the middle is that of the curve to rounding") {
  const DepthDuration curve = power_curve();
  const std::vector<double> blocks = alternating_blocks(curve, 6 * 3600, 300);
  REQUIRE(blocks.size() == 72);
  for (std::size_t half = 1; half <= 36; ++half) {
    double sum = 0;
    for (std::size_t k = 36 - half; k < 36 + half; ++k) sum += blocks[k];
    const double exact = curve.at(static_cast<double>(2 * half) * 300);
    CHECK(sum == Approx(exact).epsilon(1e-12));
    figures::record("rain", "nested storm from a smooth curve", "depth of the heaviest 10 min to 6 h, mm",
                    exact * 1e3, sum * 1e3, figures::share(1e-12));
  }
}

TEST_CASE("The usual curve carries the depth asked for, and Hershfield's shares of the hour") {
  const DepthDuration curve = usual_curve(0.066, 6 * 3600);
  CHECK(curve.at(6 * 3600) == Approx(0.066));
  const double hour = curve.at(3600);
  CHECK(curve.at(300) / hour == Approx(0.29));
  CHECK(curve.at(600) / hour == Approx(0.45));
  CHECK(curve.at(900) / hour == Approx(0.57));
  CHECK(curve.at(1800) / hour == Approx(0.79));
  for (const auto& [seconds, share] : {std::pair{300.0, 0.29}, {600.0, 0.45}, {900.0, 0.57}, {1800.0, 0.79}})
    figures::record("rain", "usual curve (Hershfield)", "depth of 5 to 30 min over that of the hour", share,
                    curve.at(seconds) / hour, figures::share(1e-5));
}

TEST_CASE("One block is the whole storm") {
  CHECK(alternating_blocks(power_curve(), 600, 3600).size() == 1);
  CHECK(alternating_blocks(power_curve(), 600, 3600)[0] == Approx(power_curve().at(600)));
}

TEST_CASE("Storms of no duration, endless ones and curves without entries are refused") {
  const double endless = std::numeric_limits<double>::infinity(), none = std::nan("");
  CHECK_THROWS_AS(DepthDuration{}.at(60), std::invalid_argument);
  CHECK_THROWS_AS((DepthDuration{{60, 120}, {0.01}}.at(90)), std::invalid_argument);
  for (const double bad : {0.0, -1.0, endless, none}) {
    CHECK_THROWS_AS(alternating_blocks(power_curve(), bad, 300), std::invalid_argument);
    CHECK_THROWS_AS(usual_curve(0.05, bad), std::invalid_argument);
  }
  for (const double bad : {0.0, -1.0, none, 1e-9})
    CHECK_THROWS_AS(alternating_blocks(power_curve(), 3600, bad), std::invalid_argument);
  for (const double bad : {-1.0, endless, none})
    CHECK_THROWS_AS(usual_curve(bad, 3600), std::invalid_argument);
}

TEST_CASE("Below the first entry of a curve stands the usual shape, scaled to meet it") {
  const DepthDuration curve = with_usual_bursts({{3600, 7200}, {0.05, 0.06}});
  CHECK(curve.duration == std::vector<double>{300, 600, 900, 1800, 3600, 7200});
  CHECK(curve.at(300) == Approx(0.29 * 0.05));
  CHECK(curve.at(1800) == Approx(0.79 * 0.05));
  CHECK(curve.at(3600) == Approx(0.05));
  CHECK(curve.at(7200) == Approx(0.06));
  const DepthDuration whole = power_curve();
  CHECK(with_usual_bursts(whole).duration == whole.duration);
  CHECK(with_usual_bursts({}).duration.empty());
}
