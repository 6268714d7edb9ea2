#include "catch.hpp"

#include <lowspot/results/output_times.hpp>

using namespace lowspot;

TEST_CASE("outputs start at zero, end at the end, and thin out as the yard dries") {
  const auto plan = results::plan_outputs({}, 6 * 3600.0, 6 * 3600.0 + 7 * 86400.0);
  REQUIRE(plan.times.size() == plan.with_maps.size());
  CHECK(plan.times.front() == 0);
  CHECK(plan.times.back() == 6 * 3600.0 + 7 * 86400.0);
  for (std::size_t k = 1; k < plan.times.size(); ++k) CHECK(plan.times[k] > plan.times[k - 1]);
  CHECK(plan.times[1] - plan.times[0] == 300);
  CHECK(plan.times[plan.times.size() - 2] - plan.times[plan.times.size() - 3] == 3600);
  std::size_t maps = 0;
  for (bool with : plan.with_maps) maps += with;
  CHECK(maps <= 121);
  CHECK(plan.with_maps.front());
  CHECK(plan.with_maps.back());
}

TEST_CASE("[run] output_every makes even rows, without drift") {
  site::RunOptions options;
  options.output_every = 60;
  const auto plan = results::plan_outputs(options, 100, 9000);
  REQUIRE(plan.times.size() == 151);
  CHECK(plan.times[77] == 77 * 60.0);
  options.output_every = 0.1;
  CHECK(results::plan_outputs(options, 0, 1000).times[9999] == 9999 * 0.1);
}

TEST_CASE("rows beyond what any table should hold are refused, not made") {
  site::RunOptions options;
  options.output_every = 1;
  CHECK_THROWS_WITH(results::plan_outputs(options, 100, 1e9),
                    ContainsSubstring("run.output_every") && ContainsSubstring("1e9 rows"));
}
