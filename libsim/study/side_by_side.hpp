// Whole runs side by side, one a core.
#pragma once
#include <functional>

namespace lowspot::study {

// Calls job(0) .. job(count - 1), at most `threads` at once (0: as many as there are cores). The first
// exception of any job is rethrown once all running jobs have ended; jobs not yet begun are then left out.
void run_side_by_side(int count, int threads, const std::function<void(int)>& job);

// How many threads each of `count` runs side by side may use of its own when `threads` (0: as many as there
// are cores) are there for all: a run alone may use all. At least 1.
int threads_each(int count, int threads);

} // namespace lowspot::study
