#include <lowspot/study/cascade.hpp>

#include <algorithm>
#include <limits>

namespace lowspot::study {

Cascade::Cascade(std::vector<CascadeBasin> basins) : basins_(std::move(basins)), sources_(basins_.size()) {
  for (std::size_t b = 0; b < basins_.size(); ++b)
    if (basins_[b].spills_to >= 0) sources_[basins_[b].spills_to].push_back(static_cast<int>(b));
}

bool Cascade::is_within(int basin, int outer) const {
  for (; basin >= 0; basin = basins_[basin].parent)
    if (basin == outer) return true;
  return false;
}

double Cascade::arrived_on_path(int basin, const std::vector<double>& own, std::vector<int>& path) const {
  path.push_back(basin);
  double sum = 0;
  std::vector<int> open = {basin};
  while (!open.empty()) {
    const int at = open.back();
    open.pop_back();
    if (basins_[at].parts[0] >= 0) {
      open.insert(open.end(), basins_[at].parts, basins_[at].parts + 2);
      continue;
    }
    sum += own[at];
    for (const int source : sources_[at]) {
      if (is_within(source, basin)) continue; // moves inside
      // What is being filled is not full, and so neither is anything that it is part of.
      const bool waits =
          std::any_of(path.begin(), path.end(), [&](int filling) { return is_within(filling, source); });
      if (waits) continue;
      sum += std::max(0.0, arrived_on_path(source, own, path) - basins_[source].volume);
    }
  }
  path.pop_back();
  return sum;
}

double Cascade::arrived(int basin, const std::vector<double>& own) const {
  std::vector<int> path;
  return arrived_on_path(basin, own, path);
}

double Cascade::rain_that_fills(int basin, const std::function<const std::vector<double>&(double)>& own_after,
                                double most_rain) const {
  const double volume = basins_[basin].volume;
  double low = 0, high = 0.001;
  while (arrived(basin, own_after(high)) < volume) {
    low = high;
    high *= 2;
    if (low >= most_rain) return std::numeric_limits<double>::infinity();
  }
  while (high - low > 1e-12 * std::max(1.0, high)) {
    const double middle = 0.5 * (low + high);
    if (middle <= low || middle >= high) break;
    (arrived(basin, own_after(middle)) < volume ? low : high) = middle;
  }
  return high;
}

} // namespace lowspot::study
