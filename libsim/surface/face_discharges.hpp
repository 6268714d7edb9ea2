// Discharges over all faces, worked out when first asked for.
#pragma once
#include <atomic>
#include <mutex>

#include <lowspot/base/field.hpp>

namespace lowspot::surface {

// Any number of threads may ask at once: one works them out, others wait for it.
class FaceDischarges {
public:
  FaceDischarges() = default;
  // A copy works out its own.
  FaceDischarges(const FaceDischarges& /*other*/) {}
  // As above.
  FaceDischarges& operator=(const FaceDischarges& other) {
    if (this != &other) forget();
    return *this;
  }
  ~FaceDischarges() = default;

  // They have changed. Nobody may be asking meanwhile.
  void forget() { known_.store(false, std::memory_order_relaxed); }
  // Sees to it that x and y are known; work(x, y) finds them [m2/s, positive to the east and the north].
  template <class Work>
  void find(const Work& work) const {
    if (known_.load(std::memory_order_acquire)) return;
    const std::lock_guard lock(one_at_a_time_);
    if (known_.load(std::memory_order_relaxed)) return;
    work(x_, y_);
    known_.store(true, std::memory_order_release);
  }
  // Once they have been found.
  const Field& x() const { return x_; }
  const Field& y() const { return y_; }

private:
  mutable std::mutex one_at_a_time_;
  mutable std::atomic<bool> known_ = false;
  mutable Field x_, y_;
};

} // namespace lowspot::surface
