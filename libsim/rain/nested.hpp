// Nested storms: every duration's depth inside one storm, the heaviest rain in the middle.
#pragma once
#include <vector>

namespace lowspot::rain {

// Depth [m] by duration [s], both rising.
struct DepthDuration {
  std::vector<double> duration; // s
  std::vector<double> depth;    // m
  // Depth for any duration: log-log between the entries and on the last slope beyond them; below the first at
  // its mean intensity. Throws std::invalid_argument without entries.
  double at(double seconds) const;
};

// Depths of the blocks of an alternating-block storm (Chow, Maidment and Mays 1988): the increments of the
// curve, the largest in the middle, the next ones right and left of it in turn. Where the
// curve bends upwards it is held down between its entries, so that each stretch that is an entry long carries
// at most that depth, unless the entries themselves bend upwards. `block` and `duration` in seconds, above
// zero; the depths sum to curve.at(duration).
std::vector<double> alternating_blocks(const DepthDuration& curve, double duration, double block);

// The shape used where only a depth and a duration are known: depth in proportion to a usual share of the
// 60-minute depth by duration (Hershfield 1961 below the hour; a rounded curve of the central United States
// above it), scaled to carry `depth` [m] over `duration` [s].
DepthDuration usual_curve(double depth, double duration);

// A curve whose first entry is of a long duration says nothing of the bursts within it: the usual shape below
// that entry, scaled to meet it. The entries that are given stay.
DepthDuration with_usual_bursts(DepthDuration curve);

} // namespace lowspot::rain
