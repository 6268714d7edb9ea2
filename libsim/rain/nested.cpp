#include <lowspot/rain/nested.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <stdexcept>

namespace lowspot::rain {
namespace {
constexpr double most_blocks = 1e7; // three years of ten seconds

// A curve up to the duration of a storm, as blocks in falling order can hold it. Straight pieces in
// logarithms bend upwards at some entries of measured tables, such as 3 h: the blocks just beyond would be
// heavier than those just below, come in their place and carry the entry over its depth. There the curve is
// held under a straight line through the entry that passes over those beside it. Where the entries themselves
// bend upwards there is none, and the curve is straight on both sides, which passes the entry by less.
class NestedCurve {
public:
  NestedCurve(const DepthDuration& curve, double duration) : curve_(curve) {
    for (std::size_t k = 0; k < curve.duration.size() && curve.duration[k] < duration * (1 - 1e-9); ++k)
      entries_.push_back({curve.duration[k], curve.depth[k]});
    entries_.push_back({duration, curve.at(duration)});
    for (std::size_t k = 1; k + 1 < entries_.size(); ++k) hold(k);
  }
  double at(double seconds) const {
    std::size_t above = 1; // the entry above
    while (above + 1 < entries_.size() && entries_[above].time <= seconds) ++above;
    const Entry &low = entries_[above - 1], &high = entries_[above];
    double depth = curve_.at(seconds);
    if (low.held) depth = std::min(depth, low.depth + low.beyond * (seconds - low.time));
    if (high.held) depth = std::min(depth, high.depth - high.below * (high.time - seconds));
    return depth;
  }

private:
  struct Entry {
    double time = 0, depth = 0;   // s, m
    double below = 0, beyond = 0; // slopes of the line on both sides [m/s]
    bool held = false;            // whether there is one
  };

  void hold(std::size_t k) {
    const Entry &before = entries_[k - 1], &after = entries_[k + 1];
    Entry& entry = entries_[k];
    const double mean_below = (entry.depth - before.depth) / (entry.time - before.time);
    const double mean_beyond = (after.depth - entry.depth) / (after.time - entry.time);
    const auto slope_of_logarithms = [](const Entry& low, const Entry& high) {
      return std::log(high.depth / low.depth) / std::log(high.time / low.time);
    };
    const double mean = entry.depth / entry.time;
    const double below = k == 1 ? mean_below : mean * slope_of_logarithms(before, entry);
    const double beyond = mean * slope_of_logarithms(entry, after);
    if (!(beyond > below)) return;
    entry.held = true;
    entry.below = mean_below, entry.beyond = mean_beyond;
    if (mean_beyond <= mean_below)
      entry.below = entry.beyond = std::clamp(0.5 * (below + beyond), mean_beyond, mean_below);
  }

  const DepthDuration& curve_;
  std::vector<Entry> entries_ = {{}}; // from nothing at no time to the whole storm
};
} // namespace

double DepthDuration::at(double seconds) const {
  if (duration.empty() || depth.size() != duration.size())
    throw std::invalid_argument("a curve of depth by duration without entries, or with one list longer");
  if (seconds <= 0) return 0;
  if (duration.size() == 1 || seconds <= duration.front()) return depth.front() * seconds / duration.front();
  std::size_t k = 1;
  while (k + 1 < duration.size() && duration[k] < seconds) ++k;
  const double slope = std::log(depth[k] / depth[k - 1]) / std::log(duration[k] / duration[k - 1]);
  return depth[k - 1] * std::pow(seconds / duration[k - 1], slope);
}

std::vector<double> alternating_blocks(const DepthDuration& curve, double duration, double block) {
  if (!(duration > 0 && block > 0 && std::isfinite(duration) && duration / block <= most_blocks))
    throw std::invalid_argument("a nested storm needs a duration and blocks above zero");
  const int count = std::max(1, static_cast<int>(std::lround(duration / block)));
  const NestedCurve nested(curve, duration);
  std::vector<double> increments;
  double before = 0;
  for (int k = 1; k <= count; ++k) {
    const double total = nested.at(k * (duration / count));
    increments.push_back(total - before);
    before = total;
  }
  std::sort(increments.begin(), increments.end(), std::greater<>());
  std::vector<double> blocks(count, 0.0);
  // Middle first, then right, left, right ...
  int right = count / 2, left = right - 1;
  for (int k = 0; k < count; ++k) {
    const bool to_right = (k % 2 == 0 && right < count) || left < 0;
    blocks[to_right ? right++ : left--] = increments[k];
  }
  return blocks;
}

DepthDuration usual_curve(double depth, double duration) {
  if (!(duration > 0 && std::isfinite(duration) && depth >= 0 && std::isfinite(depth)))
    throw std::invalid_argument("a usual curve needs a depth and a duration that are numbers above zero");
  // Minutes, and depth as a share of that of 60 minutes.
  constexpr double minutes[] = {5, 10, 15, 30, 60, 120, 180, 360, 720, 1440, 2880};
  constexpr double share[] = {0.29, 0.45, 0.57, 0.79, 1.0, 1.17, 1.28, 1.50, 1.70, 1.91, 2.2};
  DepthDuration curve;
  for (std::size_t k = 0; k < std::size(minutes); ++k) {
    curve.duration.push_back(minutes[k] * 60);
    curve.depth.push_back(share[k]);
  }
  const double scale = depth / curve.at(duration);
  for (double& value : curve.depth) value *= scale;
  return curve;
}

DepthDuration with_usual_bursts(DepthDuration curve) {
  if (curve.duration.empty()) return curve;
  const DepthDuration usual = usual_curve(curve.depth.front(), curve.duration.front());
  std::size_t below = 0;
  while (below < usual.duration.size() && usual.duration[below] < 0.999 * curve.duration.front()) ++below;
  const auto count = static_cast<std::ptrdiff_t>(below);
  curve.duration.insert(curve.duration.begin(), usual.duration.begin(), usual.duration.begin() + count);
  curve.depth.insert(curve.depth.begin(), usual.depth.begin(), usual.depth.begin() + count);
  return curve;
}

} // namespace lowspot::rain
