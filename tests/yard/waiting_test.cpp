// Water that came at an even rate flows on at that rate, whatever the steps.
#include "catch.hpp"

#include <numeric>
#include <vector>

#include <lowspot/yard/waiting.hpp>

using namespace lowspot;

namespace {
// What a cell lets go in each step [m/s], where water comes at a rate of each [m/s].
std::vector<double> flows_on(const std::vector<double>& steps, const std::vector<double>& rate,
                             yard::WaitingWater& waiting) {
  std::vector<double> flow;
  double before = 0;
  for (std::size_t k = 0; k < steps.size(); ++k) {
    flow.push_back(yard::let_go(waiting, 0, before, steps[k]).all);
    waiting.water[0] += rate[k] * steps[k];
    waiting.from_drain[0] += 0.25 * rate[k] * steps[k];
    before = steps[k];
  }
  return flow;
}
} // namespace

TEST_CASE("an even flow stays even where short steps follow long ones") {
  const std::vector<double> steps = {10, 10, 1, 10, 10, 9, 1, 10, 3600, 10, 10, 1, 1};
  yard::WaitingWater waiting = yard::no_waiting_water(1);
  const std::vector<double> flow = flows_on(steps, std::vector<double>(steps.size(), 2e-4), waiting);
  CHECK(flow[0] == 0);
  for (std::size_t k = 1; k < flow.size(); ++k) {
    CAPTURE(k);
    CHECK(flow[k] <= 2e-4 * (1 + 1e-12));
    if (steps[k] <= steps[k - 1] || k == 3 || k == 7) CHECK_THAT(flow[k], WithinRel(2e-4, 1e-12));
  }
}

TEST_CASE("what waits is let go to the last drop, and none of it twice") {
  const std::vector<double> steps = {10, 1, 1, 5, 10, 1, 1, 1, 2, 2, 10, 30};
  const std::vector<double> rate = {1e-4, 3e-4, 0, 2e-3, 1e-5, 0, 0, 0, 0, 0, 0, 0};
  yard::WaitingWater waiting = yard::no_waiting_water(1);
  const std::vector<double> flow = flows_on(steps, rate, waiting);
  const double came = std::inner_product(rate.begin(), rate.end(), steps.begin(), 0.0);
  const double went = std::inner_product(flow.begin(), flow.end(), steps.begin(), 0.0);
  CHECK_THAT(went, WithinRel(came, 1e-12));
  CHECK(waiting.water[0] == 0);
  CHECK(waiting.from_drain[0] == 0);
}

TEST_CASE("a burst after a long quiet step does not wait for as long as that") {
  yard::WaitingWater waiting = yard::no_waiting_water(1);
  // An hour's drip of 3.6 mm, then 20 mm in ten seconds.
  const std::vector<double> flow = flows_on({3600, 10, 10, 10}, {1e-6, 2e-3, 0, 0}, waiting);
  CHECK_THAT(flow[1], WithinRel(1e-6, 1e-12));
  CHECK(flow[2] > 0.9 * 2e-3);
}

TEST_CASE("the part from the drain keeps its share") {
  yard::WaitingWater waiting = yard::no_waiting_water(2);
  waiting.water[1] = 0.008;
  waiting.from_drain[1] = 0.002;
  waiting.span[1] = 40;
  const yard::Arriving arriving = yard::let_go(waiting, 1, 0, 10);
  CHECK_THAT(arriving.all, WithinRel(arriving.from_drain * 4, 1e-12));
  CHECK_THAT(waiting.water[1] + 10 * arriving.all, WithinRel(0.008, 1e-12));
  CHECK_THAT(waiting.from_drain[1] + 10 * arriving.from_drain, WithinRel(0.002, 1e-12));
}
