// Threads that work on one thing side by side: made once, asleep in between.
#pragma once
#include <atomic>
#include <memory>
#include <thread>
#include <vector>

namespace lowspot::surface {

// Waits until a value that another thread changes passes a test, and returns it: awake for some tens of
// microseconds, since going to sleep and being woken take as long; then asleep, so that nothing is taken from
// those who have work.
template <class Number, class Test>
Number await_value(const std::atomic<Number>& value, const Test& passes) {
  constexpr int looks = 1000;
  for (int k = 0; k < looks; ++k) {
    const Number now = value.load(std::memory_order_acquire);
    if (passes(now)) return now;
#if defined(__x86_64__) || defined(__i386__)
    __builtin_ia32_pause();
#endif
  }
  Number now = value.load(std::memory_order_acquire);
  while (!passes(now)) {
    value.wait(now, std::memory_order_acquire);
    now = value.load(std::memory_order_acquire);
  }
  return now;
}

// How far one thread has come, for others to wait for. What was written before raise() is seen after await().
class Progress {
public:
  void reset() { done_.store(0, std::memory_order_relaxed); }
  // Says how far this one has come.
  void raise(int done) {
    done_.store(done, std::memory_order_release);
    done_.notify_all();
  }
  // Waits until that one has come so far.
  void await(int least) const {
    await_value(done_, [least](int now) { return now >= least; });
  }

private:
  alignas(64) std::atomic<int> done_{0};
};

// Threads that share the rows of one surface.
class Crew {
public:
  // size: at least 1, the thread that calls run() is one of them; fewer where the computer has no more
  // threads to give. least_updates: see Options::updates_a_thread.
  explicit Crew(int size, double least_updates = 0);
  Crew(const Crew&) = delete;
  Crew& operator=(const Crew&) = delete;
  ~Crew();

  // The threads that there are.
  int size() const { return size_; }
  double least_updates() const { return least_updates_; }
  // Of each member within the work at hand, 0 at its start.
  Progress& progress(int member) { return progress_[member]; }

  // work(member) for member = 0 .. members - 1, at most size(), each by a thread of its own; returns when all
  // are done. The work must not throw.
  template <class Work>
  void run(int members, const Work& work) {
    call([](const void* what, int member) { (*static_cast<const Work*>(what))(member); }, &work, members);
  }

private:
  using Call = void (*)(const void* work, int member);
  struct Worker {
    alignas(64) std::atomic<unsigned> rounds{0}; // raised to set it to work
    std::thread thread;
  };
  void call(Call function, const void* work, int members);
  void serve(int member);

  double least_updates_ = 0;
  int size_ = 1;
  std::vector<Progress> progress_;
  std::unique_ptr<Worker[]> workers_; // members 1 and up
  alignas(64) std::atomic<int> at_work_{0};
  Call function_ = nullptr; // none: time to go
  const void* work_ = nullptr;
};

} // namespace lowspot::surface
