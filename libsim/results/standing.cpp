#include <lowspot/results/standing.hpp>

#include <algorithm>
#include <utility>
#include <vector>

namespace lowspot::results {

StandingTime::StandingTime(double limit, std::span<const double> depth)
    : limit_(limit), before_(depth.begin(), depth.end()), total_(depth.size(), 0.0),
      after_rain_(depth.size(), 0.0), last_(depth.size(), 0.0) {}

void StandingTime::step(double t0, double t1, std::span<const double> depth, double end_of_rain) {
  for (std::size_t c = 0; c < depth.size(); ++c) {
    const double a = before_[c], b = depth[c];
    before_[c] = b;
    if (a <= limit_ && b <= limit_) continue;
    double from = t0, to = t1;
    if (a <= limit_) from = t0 + (t1 - t0) * (limit_ - a) / (b - a);
    if (b <= limit_) to = t0 + (t1 - t0) * (a - limit_) / (a - b);
    total_[c] += to - from;
    after_rain_[c] += std::max(0.0, to - std::max(from, end_of_rain));
    last_[c] = to;
  }
}

double last_standing(std::span<const int> cells, std::span<const double> areas, const Field& last,
                     double least_area) {
  std::vector<std::pair<double, double>> stood; // last moment, area
  for (std::size_t k = 0; k < cells.size(); ++k)
    if (last[cells[k]] > 0) stood.emplace_back(last[cells[k]], areas[k]);
  std::sort(stood.begin(), stood.end(), std::greater<>());
  double wide = 0;
  for (const auto& [moment, cell_area] : stood) {
    wide += cell_area;
    if (wide >= least_area * (1 - 1e-9)) return moment;
  }
  return 0;
}

} // namespace lowspot::results
