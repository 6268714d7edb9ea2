#include <lowspot/study/front.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/study/tune.hpp>

namespace lowspot::study {

bool priced_alike(const std::vector<Tried>& tried) {
  const Works* first = nullptr;
  for (const Tried& one : tried) {
    if (!one.candidate.can_be_built()) continue;
    const Works& works = one.candidate.works;
    if (!first) first = &works;
    if (!std::isfinite(works.cost) || works.without_price != first->without_price) return false;
  }
  return first != nullptr;
}

double size_of(const Tried& tried) {
  const Works& works = tried.candidate.works;
  return std::isfinite(works.cost) ? works.cost : works.dig;
}

void mark_front(std::vector<Tried>& tried) {
  double least = 1e300;
  for (Tried& one : tried) {
    one.on_front = false;
    if (!one.best()) continue;
    const double hours = hours_of(*one.best());
    if (hours >= least - std::max(0.25, 0.02 * least) && least < 1e300) continue;
    least = hours;
    one.on_front = true;
  }
}

int knee_of(const std::vector<Tried>& tried) {
  std::vector<int> front;
  for (std::size_t k = 0; k < tried.size(); ++k)
    if (tried[k].on_front) front.push_back(static_cast<int>(k));
  if (front.size() < 3) return -1;
  const Tried& first = tried[front.front()];
  const Tried& last = tried[front.back()];
  const double wide = size_of(last) - size_of(first), high = hours_of(*first.best()) - hours_of(*last.best());
  if (!(wide > 0) || !(high > 0)) return -1;
  int knee = -1;
  double most = 0.1;
  for (const int k : front) {
    const double x = (size_of(tried[k]) - size_of(first)) / wide;
    const double y = (hours_of(*tried[k].best()) - hours_of(*last.best())) / high;
    const double below = 1 - x - y;
    if (below > most) {
      most = below;
      knee = k;
    }
  }
  return knee;
}

} // namespace lowspot::study
