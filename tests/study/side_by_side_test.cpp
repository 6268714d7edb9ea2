#include "catch.hpp"

#include <atomic>
#include <stdexcept>
#include <vector>

#include <lowspot/study/side_by_side.hpp>

using namespace lowspot;

TEST_CASE("every job runs once, whatever the number of threads") {
  for (int threads : {0, 1, 2, 7}) {
    std::vector<std::atomic<int>> done(23);
    study::run_side_by_side(23, threads, [&](int k) { ++done[k]; });
    for (const std::atomic<int>& count : done) CHECK(count == 1);
  }
  study::run_side_by_side(0, 2, [](int) { FAIL("no job was asked for"); });
}

TEST_CASE("runs share out the threads that are there") {
  CHECK(study::threads_each(1, 4) == 4);
  CHECK(study::threads_each(2, 5) == 2);
  CHECK(study::threads_each(7, 4) == 1);
  CHECK(study::threads_each(0, 3) == 3);
  CHECK(study::threads_each(1, 0) >= 1);
}

TEST_CASE("the exception of a job reaches the caller") {
  CHECK_THROWS_WITH(study::run_side_by_side(8, 2,
                                            [](int k) {
                                              if (k == 3) throw std::runtime_error("third");
                                            }),
                    "third");
}
