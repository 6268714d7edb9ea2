// Whole runs side by side, one a core.
#pragma once
#include <functional>

namespace lowspot::study {

// Calls job(0) .. job(count - 1), at most `threads` at once (0: as many as there are cores). The first
// exception of any job is rethrown once all running jobs have ended; jobs not yet begun are then left out.
void run_side_by_side(int count, int threads, const std::function<void(int)>& job);

} // namespace lowspot::study
