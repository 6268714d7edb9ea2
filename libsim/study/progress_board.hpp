// The share done of several runs side by side, told to one listener.
#pragma once
#include <atomic>
#include <functional>
#include <memory>

namespace lowspot::study {

struct Stopped {}; // thrown when a listener asked to stop

// Adds up what several runs have done.
class ProgressBoard {
public:
  // listen: called from any thread with the share of all runs that is done, 0..1; returns false to stop. May
  // be empty. The reference must outlive the board.
  ProgressBoard(int runs, const std::function<bool(double share)>& listen);
  // The share done of one run. Throws Stopped where the listener asked for it.
  void update(int run, double share);

private:
  std::unique_ptr<std::atomic<double>[]> shares_;
  int count_;
  const std::function<bool(double)>& listen_;
};

} // namespace lowspot::study
