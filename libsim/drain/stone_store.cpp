#include <lowspot/drain/stone_store.hpp>

#include <algorithm>
#include <cmath>

namespace lowspot::drain {
namespace {

constexpr int most_tries = 100;

// Area of a circle below a level `y` over its lowest point [m2], and the width of the level in it [m].
double segment(double diameter, double y) {
  const double r = diameter / 2, up = std::clamp(y, 0.0, diameter) - r;
  return r * r * (std::asin(up / r) + std::acos(-1.0) / 2) + up * std::sqrt(std::max(0.0, r * r - up * up));
}
double chord(double diameter, double y) {
  return y > 0 && y < diameter ? 2 * std::sqrt(y * (diameter - y)) : 0;
}

} // namespace

double stone_volume(const StoneStore& store, double level) {
  const double wet = std::min(level, store.top);
  double volume = store.area * (wet - store.bottom) + store.area_above * std::max(0.0, level - store.top);
  if (store.bore_pores > 0) volume -= store.bore_pores * segment(store.bore, wet - store.bore_bottom);
  return volume;
}

double stone_area(const StoneStore& store, double level) {
  if (level >= store.top) return store.area_above;
  if (!(store.bore_pores > 0)) return store.area;
  return store.area - store.bore_pores * chord(store.bore, level - store.bore_bottom);
}

double stone_level_for(const StoneStore& store, double volume) {
  const double full = stone_volume(store, store.top);
  if (volume > full) return store.top + (volume - full) / store.area_above;
  double low = store.bottom + volume / store.area; // without the bore the level would be lower
  if (!(store.bore_pores > 0) || low <= store.bore_bottom) return low;
  // Newton's method, in halves where it would leave what is known to hold the level.
  double high = store.top, level = std::min(low, high);
  for (int k = 0; k < most_tries; ++k) {
    const double misfit = stone_volume(store, level) - volume;
    (misfit > 0 ? high : low) = level;
    double next = level - misfit / stone_area(store, std::min(level, store.top - 1e-12));
    if (!(next > low && next < high)) next = (low + high) / 2;
    if (std::abs(next - level) <= 2e-15 * (1 + std::abs(level))) return next;
    level = next;
  }
  return level;
}

} // namespace lowspot::drain
