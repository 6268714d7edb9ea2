// Where the arrays of the row kernels lie in memory.
#pragma once
#include <cstddef>
#include <vector>

namespace lowspot::surface {

// Memory that starts on a cache line, so that vectors do not straddle two. Blocks start at different places
// in their pages: numbers of one cell in several arrays would otherwise contend for one place in cache, and a
// read would wait for a write to another array that looks the same in its last 12 bits. Large blocks ask for
// large pages. Throws std::bad_alloc.
void* allocate_lines(std::size_t bytes);
void free_lines(void* block);

// Gives standard containers such memory.
template <class Number>
struct LineAllocator {
  using value_type = Number; // as the standard library asks
  LineAllocator() = default;
  // As the allocators of the standard library: of one kind all are alike.
  template <class Other>
  explicit LineAllocator(const LineAllocator<Other>&) {}
  Number* allocate(std::size_t count) { return static_cast<Number*>(allocate_lines(count * sizeof(Number))); }
  void deallocate(Number* values, std::size_t) { free_lines(values); }
  bool operator==(const LineAllocator&) const { return true; }
};
// A vector that starts on a cache line.
template <class Number>
using Aligned = std::vector<Number, LineAllocator<Number>>;

} // namespace lowspot::surface
