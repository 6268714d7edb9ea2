// The clock of the measurements: what other programs take on a shared machine is not counted.
#pragma once
#include <ctime>

// CPU time of the calling thread [s].
inline double cpu_seconds() {
  timespec time{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &time);
  return static_cast<double>(time.tv_sec) + 1e-9 * static_cast<double>(time.tv_nsec);
}
