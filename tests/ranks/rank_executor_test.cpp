#include "catch.hpp"

#include <atomic>
#include <chrono>
#include <set>
#include <stdexcept>
#include <thread>

#include <lowspot/base/error.hpp>
#include <lowspot/ranks/rank_executor.hpp>

#include "ranks/joined.hpp"

using namespace lowspot;

// Run alone and with `mpirun -n 2` (tests/CMakeLists.txt): every process runs the same cases side by side.

TEST_CASE("every process gets every result, those that follow in the order of the jobs") {
  const auto executor = ranks::make_executor(sample::joined(), 1);
  CHECK(executor->leads() == sample::joined().leads());
  CHECK(executor->width() == sample::joined().size());
  for (int round = 0; round < 3; ++round) { // one batch after the other
    std::vector<std::string> results(50);
    int given = 0, last = -1;
    bool in_order = true;
    study::Jobs jobs;
    jobs.count = 50;
    jobs.run = [&](int k, const std::function<void(double)>& report) {
      report(0.5);
      return std::string(static_cast<std::size_t>(k), 'x') + std::to_string(round);
    };
    jobs.known = [&](int k) { return k == 7 ? std::optional<std::string>("known") : std::nullopt; };
    jobs.sink = [&](int k, const std::string& text) {
      results[static_cast<std::size_t>(k)] = text;
      ++given;
      in_order = in_order && k > last;
      last = k;
    };
    executor->run(jobs);
    CHECK(given == 50);
    CHECK((in_order || executor->leads()));
    CHECK(results[7] == "known");
    CHECK(results[0] == std::to_string(round));
    CHECK(results[49].size() == 50);
  }
}

TEST_CASE("a failure reaches the process that leads and ends the batch for all") {
  const auto executor = ranks::make_executor(sample::joined(), 1);
  study::Jobs jobs;
  jobs.count = 20;
  jobs.run = [](int, const std::function<void(double)>&) -> std::string {
    throw std::runtime_error("no luck");
  };
  jobs.sink = [](int, const std::string&) { FAIL("no job succeeds"); };
  if (executor->leads())
    CHECK_THROWS_WITH(executor->run(jobs), "no luck");
  else
    CHECK_THROWS_AS(executor->run(jobs), study::Stopped);
}

TEST_CASE("bad input met by any process is bad input to the one that leads, part by part") {
  const auto executor = ranks::make_executor(sample::joined(), 1);
  const bool alone = sample::joined().size() == 1, leads = executor->leads();
  study::Jobs jobs;
  jobs.count = 20;
  jobs.run = [&](int, const std::function<void(double)>&) -> std::string {
    if (leads && !alone) { // leaves the jobs to the others
      std::this_thread::sleep_for(std::chrono::milliseconds(50));
      return "";
    }
    throw InputError({"site.toml", 12, "basin: 'x'"}, "an overflow", "", "raise it: by 2 in");
  };
  if (!leads) {
    CHECK_THROWS_AS(executor->run(jobs), study::Stopped);
    return;
  }
  try {
    executor->run(jobs);
    FAIL("bad input was let pass");
  } catch (const InputError& error) {
    CHECK(error.where.file == "site.toml");
    CHECK(error.where.line == 12);
    CHECK(error.where.key == "basin: 'x'");
    CHECK(error.found == "an overflow");
    CHECK(error.expected.empty());
    CHECK(error.mend == "raise it: by 2 in");
  }
}
