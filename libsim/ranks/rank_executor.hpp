// An executor whose jobs go to all processes that mpirun started.
#pragma once
#include <memory>

#include <lowspot/ranks/ranks.hpp>
#include <lowspot/study/executor.hpp>

namespace lowspot::ranks {

// Threads of this process where it is alone; otherwise jobs go out one at a time, by number, to whichever
// process is free, the one that leads doing `threads` of them itself (0: one). Results travel as text to the
// process that leads, whose sink has each as it comes in; at the end every process has all of them, in the
// order of their numbers, so that all go on to the same next jobs. The others do no work of their own. ranks
// must outlive it.
std::unique_ptr<study::Executor> make_executor(const Ranks& ranks, int threads);

} // namespace lowspot::ranks
