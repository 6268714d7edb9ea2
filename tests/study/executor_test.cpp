#include "catch.hpp"

#include <atomic>
#include <map>
#include <set>
#include <stdexcept>

#include <lowspot/study/executor.hpp>

using namespace lowspot;

namespace {
std::string square(int index, const std::function<void(double)>& report) {
  report(0.5);
  return std::to_string(index * index);
}
} // namespace

TEST_CASE("every result reaches the sink once, whatever the number of threads") {
  for (const int threads : {1, 2, 5}) {
    study::ThreadExecutor executor(threads);
    CHECK(executor.width() == threads);
    CHECK(executor.leads());
    std::map<int, std::string> results;
    std::atomic<int> inside{0};
    study::Jobs jobs;
    jobs.count = 40;
    jobs.run = square;
    jobs.sink = [&](int index, const std::string& result) {
      CHECK(++inside == 1); // never two at once
      CHECK(results.emplace(index, result).second);
      --inside;
    };
    executor.run(jobs);
    REQUIRE(results.size() == 40);
    for (const auto& [index, result] : results) CHECK(result == std::to_string(index * index));
  }
}

TEST_CASE("what is known already is not run again") {
  study::ThreadExecutor executor(2);
  std::map<int, std::string> results;
  std::atomic<int> ran{0};
  study::Jobs jobs;
  jobs.count = 10;
  jobs.run = [&](int index, const std::function<void(double)>& report) {
    ++ran;
    CHECK(index % 3 != 0);
    return square(index, report);
  };
  jobs.known = [](int index) {
    return index % 3 == 0 ? std::optional<std::string>("known " + std::to_string(index)) : std::nullopt;
  };
  jobs.sink = [&](int index, const std::string& result) { results[index] = result; };
  executor.run(jobs);
  CHECK(ran == 6);
  REQUIRE(results.size() == 10);
  CHECK(results[9] == "known 9");
  CHECK(results[8] == "64");
}

TEST_CASE("progress ends at all of it, a stop and a failure reach the caller") {
  study::ThreadExecutor executor(1);
  study::Jobs jobs;
  jobs.count = 4;
  jobs.run = square;
  double last = 0;
  jobs.progress = [&](double share) {
    CHECK(share >= last);
    last = share;
    return true;
  };
  executor.run(jobs);
  CHECK(last == 1);
  int given = 0;
  jobs.sink = [&](int, const std::string&) { ++given; };
  jobs.progress = [](double share) { return share < 0.6; };
  CHECK_THROWS_AS(executor.run(jobs), study::Stopped);
  CHECK(given == 2); // results that came before the stop were given
  jobs.progress = nullptr;
  jobs.run = [](int index, const std::function<void(double)>&) -> std::string {
    if (index == 2) throw std::runtime_error("job two");
    return "";
  };
  CHECK_THROWS_WITH(executor.run(jobs), "job two");
  jobs.count = 0;
  CHECK_NOTHROW(executor.run(jobs));
}
