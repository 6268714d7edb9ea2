#include <lowspot/site/wet_feet.hpp>

#include <algorithm>
#include <cmath>

namespace lowspot::site {
namespace {
constexpr double hour = 3600;
struct Anchor {
  double temperature, low, high; // deg C, h, h: the rows for lawn grass in data/catalog/plants.csv
};
constexpr Anchor anchors[] = {{10, 480, 1440}, {20, 120, 480}, {30, 24, 120}};
constexpr double mild = 20;

double between(double a, double b, double share) {
  return std::exp(std::log(a) + share * (std::log(b) - std::log(a)));
}
} // namespace

bool is_grass(const std::string& kind) {
  return kind == "lawn" || kind == "dense lawn" || kind.rfind("lawn grass", 0) == 0;
}

HoursLimit turf_limit(double daily_high) {
  const double warm = std::clamp(std::isfinite(daily_high) ? daily_high : mild, anchors[0].temperature,
                                 anchors[2].temperature);
  const Anchor& a = warm <= anchors[1].temperature ? anchors[0] : anchors[1];
  const Anchor& b = warm <= anchors[1].temperature ? anchors[1] : anchors[2];
  const double share = (warm - a.temperature) / (b.temperature - a.temperature);
  return {between(a.low, b.low, share) * hour, between(a.high, b.high, share) * hour};
}

HoursLimit wet_feet_limit(const Plants& plants, double daily_high) {
  // Rows that name a season of their own are taken at their word.
  if (plants.kind == "lawn grass") return turf_limit(daily_high);
  return {plants.hours_to_damage_low, plants.hours_to_damage_high};
}

} // namespace lowspot::site
