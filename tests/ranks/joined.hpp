// The processes of this test program, joined once and left when it ends.
#pragma once
#include <cstdlib>

#include <lowspot/ranks/ranks.hpp>

namespace sample {

inline lowspot::ranks::Ranks& joined() {
  static auto* const all = [] {
    auto* ranks = new lowspot::ranks::Ranks; // NOLINT(cppcoreguidelines-owning-memory): lives until exit
    std::atexit([] { joined().leave(0, false); });
    return ranks;
  }();
  return *all;
}

} // namespace sample
