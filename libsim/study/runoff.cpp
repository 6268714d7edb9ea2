#include <lowspot/study/runoff.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/soil/green_ampt.hpp>

namespace lowspot::study {
namespace {

constexpr double wet_perched = 0.0762; // 3 in, as `start = "wet"` of the site file

// Time at which the law has taken in `filled` [m]; infinite when that is after `latest` [s].
double time_to_take(double conductivity, double drive, double intensity, double filled, double latest) {
  const auto taken = [&](double t) {
    return soil::infiltrated_under_supply(conductivity, drive, 0, intensity, t);
  };
  if (taken(latest) < filled) return std::numeric_limits<double>::infinity();
  double low = 0, high = latest;
  for (int k = 0; k < 60; ++k) {
    const double middle = 0.5 * (low + high);
    (taken(middle) < filled ? low : high) = middle;
  }
  return high;
}

} // namespace

double soil_intake(const site::Soil& soil, Wetness wetness, double intensity, double time) {
  if (time <= 0 || intensity <= 0) return 0;
  const double depth = soil.depth.likely;
  double perched = std::min(soil.perched_start, depth);
  if (wetness == Wetness::wet) perched = std::max(perched, std::min(wet_perched, depth));
  const double deficit = std::max(0.0, soil.porosity - soil.initial_moisture);
  const double room = deficit * (depth - perched);
  const double conductivity = soil.conductivity.likely, drive = soil.wetting_front_suction * deficit;
  const double by_law =
      conductivity > 0 ? soil::infiltrated_under_supply(conductivity, drive, 0, intensity, time) : 0;
  if (by_law <= room) return by_law;
  const double full_at = room > 0 ? time_to_take(conductivity, drive, intensity, room, time) : 0;
  const double leakage = soil.tight_conductivity.likely *
                         (std::isfinite(soil.tight_thickness) ? 1 + depth / soil.tight_thickness : 1);
  return std::min(by_law, room + std::min(leakage, intensity) * (time - full_at));
}

double runoff_depth(const site::Area& cover, const site::Soil& soil, Wetness wetness, double intensity,
                    double rain, bool under_pool) {
  const double reaching = std::max(0.0, rain - cover.interception);
  const double soaked = cover.impervious ? 0 : soil_intake(soil, wetness, intensity, reaching / intensity);
  const double held = under_pool ? 0 : cover.depression_storage;
  return std::max(0.0, reaching - soaked - held);
}

} // namespace lowspot::study
