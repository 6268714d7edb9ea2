#include "catch.hpp"

#include <lowspot/ranks/ranks.hpp>

#include "ranks/joined.hpp"

using namespace lowspot;

TEST_CASE("one process leads, whichever way the program was started") {
  const ranks::Ranks& all = sample::joined();
  CHECK(all.size() >= 1);
  CHECK(all.rank() < all.size());
  CHECK(all.leads() == (all.rank() == 0));
}

TEST_CASE("a process by itself leaves with the code it was given") {
  if (sample::joined().size() > 1) return; // joining is done once a process
  ranks::Ranks alone;
  CHECK(alone.leads());
  CHECK(alone.leave(3, true) == 3);
}
