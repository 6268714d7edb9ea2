#include "catch.hpp"

#include <sys/resource.h>

#include <lowspot/base/memory.hpp>

using namespace lowspot;

TEST_CASE("a computer has memory, and a limit set for the process is heeded", "[memory]") {
  const double all = memory_at_hand();
  CHECK(all > 64e6);
  rlimit before{};
  REQUIRE(getrlimit(RLIMIT_AS, &before) == 0);
  const rlimit less{static_cast<rlim_t>(all / 2), before.rlim_max};
  REQUIRE(setrlimit(RLIMIT_AS, &less) == 0);
  CHECK(memory_at_hand() == static_cast<double>(static_cast<rlim_t>(all / 2)));
  setrlimit(RLIMIT_AS, &before);
}

TEST_CASE("what does not fit is refused with its size", "[memory]") {
  CHECK_NOTHROW(require_memory(8e9, {}, "cells", "", 8e9));
  CHECK_THROWS_WITH(
      require_memory(40.4e9, {"site.toml", 3, "site.cell"}, "4 million cells", "Use larger ones.", 8e9),
      ContainsSubstring("site.toml:3: site.cell: found 4 million cells, which need about 40 GB") &&
          ContainsSubstring("the 8 GB") && ContainsSubstring("Use larger ones."));
}
