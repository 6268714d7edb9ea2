#include <lowspot/study/progress_board.hpp>

namespace lowspot::study {

ProgressBoard::ProgressBoard(int runs, const std::function<bool(double)>& listen)
    : shares_(std::make_unique<std::atomic<double>[]>(static_cast<std::size_t>(runs))), count_(runs),
      listen_(listen) {}

void ProgressBoard::update(int run, double share) {
  shares_[run] = share;
  if (!listen_) return;
  double sum = 0;
  for (int k = 0; k < count_; ++k) sum += shares_[k];
  if (!listen_(sum / count_)) throw Stopped{};
}

} // namespace lowspot::study
