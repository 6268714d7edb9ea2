#include <lowspot/surface/memory.hpp>

#include <atomic>
#include <cstdint>
#include <new>

#if defined(__linux__)
#include <sys/mman.h>
#endif

namespace lowspot::surface {
namespace {

constexpr std::size_t line = 64, page = 4096, large = std::size_t{4} << 20;

// Best effort: without large pages all is as it was, a little slower.
void ask_for_large_pages([[maybe_unused]] char* begin, [[maybe_unused]] std::size_t bytes) {
#if defined(__linux__)
  if (bytes < large) return;
  const std::size_t off = (page - reinterpret_cast<std::uintptr_t>(begin) % page) % page;
  (void)madvise(begin + off, (bytes - off) / page * page, MADV_HUGEPAGE);
#endif
}

} // namespace

void* allocate_lines(std::size_t bytes) {
  static std::atomic<unsigned> blocks{0};
  // Seven lines on from block to block, so that 64 blocks have 64 places. The line before a block says where
  // the memory really begins.
  const std::size_t total = bytes + line + page;
  char* memory = static_cast<char*>(::operator new (total, std::align_val_t{line}));
  const std::size_t place = (blocks.fetch_add(7, std::memory_order_relaxed) % (page / line)) * line;
  const std::size_t here = reinterpret_cast<std::uintptr_t>(memory) % page;
  char* block = memory + line + (page + place - (here + line) % page) % page;
  *reinterpret_cast<void**>(block - sizeof(void*)) = memory;
  ask_for_large_pages(memory, total);
  return block;
}

void free_lines(void* block) {
  ::operator delete (*reinterpret_cast<void**>(static_cast<char*>(block) - sizeof(void*)),
                     std::align_val_t{line});
}

} // namespace lowspot::surface
