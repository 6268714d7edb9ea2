#include <lowspot/surface/memory.hpp>

#include <cstdint>
#include <set>
#include <vector>

#include "catch.hpp"

using namespace lowspot::surface;

TEST_CASE("Blocks start on cache lines, at different places in their pages", "[surface]") {
  std::set<std::uintptr_t> places;
  std::vector<Aligned<double>> blocks;
  for (int k = 0; k < 64; ++k) blocks.emplace_back(1 + 1000 * static_cast<std::size_t>(k), 1.5 * k);
  for (int k = 0; k < 64; ++k) {
    const auto address = reinterpret_cast<std::uintptr_t>(blocks[k].data());
    CHECK(address % 64 == 0);
    places.insert(address % 4096);
    CHECK(blocks[k].front() == 1.5 * k); // none lies in another
    CHECK(blocks[k].back() == 1.5 * k);
  }
  CHECK(places.size() == 64);
}

TEST_CASE("Large blocks are as usable as small ones", "[surface]") {
  Aligned<float> block(3000000, 2.0f); // 12 MB
  block.push_back(3.0f);
  block.resize(5000000, 4.0f);
  CHECK(block[0] == 2.0f);
  CHECK(block[3000000] == 3.0f);
  CHECK(block.back() == 4.0f);
}
