#include <lowspot/rain/nested.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <stdexcept>

namespace lowspot::rain {
namespace {
constexpr double most_blocks = 1e7; // three years of ten seconds
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
  const double step = duration / count;
  std::vector<double> increments;
  double before = 0;
  for (int k = 1; k <= count; ++k) {
    const double total = curve.at(k * step);
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
