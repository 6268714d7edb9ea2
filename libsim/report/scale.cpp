#include <lowspot/report/scale.hpp>

#include <algorithm>

#include <lowspot/base/text.hpp>

namespace lowspot::report {
namespace {

constexpr std::size_t most_classes = 8;

void colour(Scale& scale, const Ramp& ramp) {
  const std::size_t count = scale.bounds.size();
  for (std::size_t k = 0; k < count; ++k)
    scale.colors.push_back(
        sample(ramp, count > 1 ? static_cast<double>(k) / static_cast<double>(count - 1) : 0.6));
}

double deepest(const results::Comparison& comparison, const Field results::DesignRecord::*water) {
  double most = 0;
  for (const auto& design : comparison.designs)
    for (const double depth : design.*water) most = std::max(most, depth);
  return most;
}

// Round depths up to `most` [m], in the site's units.
void set_depth_classes(Scale& scale, const Units& units, double most) {
  scale.unit = units.depth.name;
  scale.unit_si = units.depth.si;
  const std::vector<double> steps =
      units.metric ? std::vector<double>{5, 10, 20, 35, 50, 75, 100, 150, 200, 300, 500, 750, 1000}
                   : std::vector<double>{0.25, 0.5, 1, 1.5, 2, 3, 4, 6, 8, 12, 18, 24, 36};
  for (const double step : steps)
    if (scale.bounds.size() < 3 || step < units.depth.of(most)) scale.bounds.push_back(step);
  // Deep yards: every second shallow step goes, the first one stays.
  while (scale.bounds.size() > most_classes) {
    std::vector<double> fewer;
    for (std::size_t k = 0; k < scale.bounds.size(); ++k)
      if (k % 2 == 0 || k + 1 == scale.bounds.size()) fewer.push_back(scale.bounds[k]);
    scale.bounds = fewer;
  }
  colour(scale, depth_ramp());
}

} // namespace

int class_of(const Scale& scale, double value) {
  const auto above = std::upper_bound(scale.bounds.begin(), scale.bounds.end(), value);
  return static_cast<int>(above - scale.bounds.begin()) - 1;
}

Scale hours_scale(const results::Comparison& comparison) {
  const double target = comparison.clear_within > 0 ? comparison.clear_within / 3600 : 24;
  Scale scale{"How long water stands after the rain, hours", "h", 1, {}, {}, target, "target"};
  scale.target_text.append(" ").append(rounded(target, 3)).append(" h");
  // Whole fractions and multiples, so that a two-day target reads 2, 6, 12, 24, 48, 96, 192.
  for (const double share : {1.0 / 24, 1.0 / 8, 1.0 / 4, 1.0 / 2, 1.0, 2.0, 4.0})
    scale.bounds.push_back(target * share);
  colour(scale, hours_ramp());
  return scale;
}

Scale depth_scale(const results::Comparison& comparison, const Units& units) {
  Scale scale;
  scale.title = units.metric ? "How deep the water gets, millimetres" : "How deep the water gets, inches";
  set_depth_classes(scale, units, deepest(comparison, &results::DesignRecord::max_depth));
  return scale;
}

Scale perched_scale(const results::Comparison& comparison, const Units& units) {
  Scale scale;
  scale.title = units.metric ? "Most water standing in the soil over the tight layer, millimetres"
                             : "Most water standing in the soil over the tight layer, inches";
  set_depth_classes(scale, units, deepest(comparison, &results::DesignRecord::perched_max));
  return scale;
}

Scale soggy_scale(const results::Comparison& comparison) {
  Scale scale = hours_scale(comparison);
  scale.title = "How long the ground is soggy, rain included, hours";
  scale.target = -1;
  scale.target_text.clear();
  return scale;
}

} // namespace lowspot::report
