#include <lowspot/surface/crew.hpp>

#include <exception>

namespace lowspot::surface {

Crew::Crew(int size, double least_updates)
    : least_updates_(least_updates), progress_(size), workers_(std::make_unique<Worker[]>(size - 1)) {
  try {
    for (int member = 1; member < size; size_ = ++member)
      workers_[member - 1].thread = std::thread([this, member] { serve(member); });
  } catch (const std::exception&) {
    // The computer has no more threads or memory to give: those that there are share the rows.
  }
}

Crew::~Crew() {
  function_ = nullptr;
  for (int k = 0; k + 1 < size(); ++k) {
    workers_[k].rounds.fetch_add(1, std::memory_order_release);
    workers_[k].rounds.notify_one();
  }
  for (int k = 0; k + 1 < size(); ++k) workers_[k].thread.join();
}

void Crew::call(Call function, const void* work, int members) {
  for (int member = 0; member < members; ++member) progress_[member].reset();
  function_ = function;
  work_ = work;
  at_work_.store(members - 1, std::memory_order_relaxed);
  for (int k = 0; k + 1 < members; ++k) {
    workers_[k].rounds.fetch_add(1, std::memory_order_release);
    workers_[k].rounds.notify_one();
  }
  function(work, 0);
  await_value(at_work_, [](int left) { return left == 0; });
}

void Crew::serve(int member) {
  std::atomic<unsigned>& rounds = workers_[member - 1].rounds;
  for (unsigned done = 0;; ++done) {
    await_value(rounds, [done](unsigned now) { return now != done; });
    if (!function_) return;
    function_(work_, member);
    if (at_work_.fetch_sub(1, std::memory_order_acq_rel) == 1) at_work_.notify_one();
  }
}

} // namespace lowspot::surface
