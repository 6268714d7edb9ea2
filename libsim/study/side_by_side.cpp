#include <lowspot/study/side_by_side.hpp>

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace lowspot::study {

namespace {

int threads_there(int threads) {
  return threads > 0 ? threads : static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
}

} // namespace

int threads_each(int count, int threads) {
  return std::max(1, threads_there(threads) / std::max(count, 1));
}

void run_side_by_side(int count, int threads, const std::function<void(int)>& job) {
  threads = std::min(threads_there(threads), count);
  std::atomic<int> next{0};
  std::atomic<bool> failed{false};
  std::exception_ptr first;
  std::mutex guard;
  const auto work = [&] {
    for (int k = next++; k < count && !failed; k = next++) {
      try {
        job(k);
      } catch (...) {
        const std::lock_guard<std::mutex> lock(guard);
        if (!first) first = std::current_exception();
        failed = true;
      }
    }
  };
  std::vector<std::thread> crew;
  try {
    for (int t = 1; t < threads; ++t) crew.emplace_back(work);
  } catch (const std::exception&) {
    // The computer has no more threads or memory to give: those that there are do the work.
  }
  work();
  for (std::thread& thread : crew) thread.join();
  if (first) std::rethrow_exception(first);
}

} // namespace lowspot::study
