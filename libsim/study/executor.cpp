#include <lowspot/study/executor.hpp>

#include <algorithm>
#include <mutex>
#include <thread>
#include <vector>

#include <lowspot/study/side_by_side.hpp>

namespace lowspot::study {

ThreadExecutor::ThreadExecutor(int threads)
    : threads_(threads > 0 ? threads : static_cast<int>(std::max(1u, std::thread::hardware_concurrency()))) {}

void ThreadExecutor::run(const Jobs& jobs) {
  std::vector<int> open; // jobs whose result is not there yet
  for (int k = 0; k < jobs.count; ++k) {
    const std::optional<std::string> result = jobs.known ? jobs.known(k) : std::nullopt;
    if (!result)
      open.push_back(k);
    else if (jobs.sink)
      jobs.sink(k, *result);
  }
  const int count = static_cast<int>(open.size());
  ProgressBoard board(count, jobs.progress);
  std::mutex one_at_a_time;
  run_side_by_side(count, threads_, [&](int k) {
    const std::string result =
        jobs.run(open[k], [&](double share) { board.update(k, std::min(share, 1.0)); });
    {
      const std::lock_guard<std::mutex> lock(one_at_a_time);
      if (jobs.sink) jobs.sink(open[k], result);
    }
    board.update(k, 1);
  });
}

} // namespace lowspot::study
