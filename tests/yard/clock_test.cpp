#include <algorithm>

#include "catch.hpp"
#include "simple_yard.hpp"

#include <algorithm>

#include <lowspot/yard/state.hpp>
#include <lowspot/yard/yard.hpp>

using namespace lowspot;

namespace {
// Keeps the lengths of all steps.
struct StepLengths : yard::Observer {
  void step_done(const yard::Yard&, const yard::StepFlows& flows) override {
    starts.push_back(flows.start);
    lengths.push_back(flows.dt);
  }
  std::vector<double> starts, lengths;
};
} // namespace

TEST_CASE("steps end where the rain changes and at the time asked for, and grow once the yard rests") {
  SimpleYard yard = simple_yard(6, 6, 0.5, [](double, double) { return 1.0; });
  yard.rain.time = {0, 777, 1000};
  yard.rain.intensity = {1e-5, 2e-6};
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
  StepLengths steps;
  run.advance(50000, &steps);
  CHECK(run.time() == 50000);
  bool change_met = false;
  double total = 0;
  for (std::size_t k = 0; k < steps.lengths.size(); ++k) {
    if (std::abs(steps.starts[k] - 777) < 1e-9) change_met = true;
    if (steps.starts[k] < 1000) CHECK(steps.lengths[k] <= 10);
    total += steps.lengths[k];
  }
  CHECK(change_met);
  CHECK_THAT(total, WithinAbs(50000, 1e-6));
  CHECK(*std::max_element(steps.lengths.begin(), steps.lengths.end()) >= 600);
}

TEST_CASE("a routed surface takes longer steps in the storm and closes its books") {
  SimpleYard yard = simple_yard(8, 6, 0.5, [](double x, double) { return 0.02 * x; });
  yard.rain.time = {0, 1800};
  yard.rain.intensity = {1e-5};
  yard::Options options;
  options.method = surface::Method::routed;
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr, options);
  StepLengths steps;
  run.advance(7200, &steps);
  CHECK(*std::max_element(steps.lengths.begin(), steps.lengths.begin() + 20) > 10);
  CHECK(std::abs(run.closure()) < 1e-9 * run.rain_volume());
}
