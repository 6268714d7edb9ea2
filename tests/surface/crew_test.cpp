#include <lowspot/surface/crew.hpp>

#include <cstddef>
#include <vector>

#include <pthread.h>

#include "catch.hpp"

using lowspot::surface::Crew;

TEST_CASE("Every member of a crew does its part, time and again", "[surface]") {
  for (const int size : {1, 2, 5}) {
    Crew crew(size);
    CHECK(crew.size() == size);
    std::vector<long> done(size, 0);
    for (int round = 0; round < 500; ++round) {
      const int members = 1 + round % size; // the others sleep on
      crew.run(members, [&](int member) { done[member] += round; });
    }
    for (int member = 0; member < size; ++member) {
      long expected = 0;
      for (int round = 0; round < 500; ++round) expected += member <= round % size ? round : 0;
      CHECK(done[member] == expected);
    }
  }
}

// Each member adds to what the one before has left, entry by entry.
TEST_CASE("What was done before is seen by those who wait for it", "[surface]") {
  constexpr int length = 2000, size = 4;
  Crew crew(size);
  for (int round = 0; round < 20; ++round) {
    std::vector<int> values(length, 0);
    crew.run(size, [&](int member) {
      for (int k = 0; k < length; ++k) {
        if (member > 0) crew.progress(member - 1).await(k + 1);
        values[k] = 3 * values[k] + member;
        crew.progress(member).raise(k + 1);
      }
    });
    CHECK(values == std::vector<int>(length, ((0 * 3 + 1) * 3 + 2) * 3 + 3));
  }
}

// No computer has room for such stacks, so that not one thread can be started.
TEST_CASE("A crew that no thread can be started for is the thread that calls", "[surface]") {
  pthread_attr_t usual, vast;
  REQUIRE(pthread_getattr_default_np(&usual) == 0);
  REQUIRE(pthread_attr_init(&vast) == 0);
  REQUIRE(pthread_attr_setstacksize(&vast, std::size_t{1} << 50) == 0);
  REQUIRE(pthread_setattr_default_np(&vast) == 0);
  int size = 0, done = 0;
  {
    Crew crew(4);
    size = crew.size();
    crew.run(size, [&](int member) { done += 1 + member; });
  }
  pthread_setattr_default_np(&usual);
  pthread_attr_destroy(&vast);
  pthread_attr_destroy(&usual);
  CHECK(size == 1);
  CHECK(done == 1);
}
