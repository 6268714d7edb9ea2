#include <lowspot/soil/redistribution.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/soil/moisture.hpp>

namespace lowspot::soil {
namespace {

// K and the capillary drive need Se^(3 + 2/lambda) and Se^(3 + 1/lambda): one power serves both.
struct Law {
  const Parameters& soil;
  double inverse_index;
  double background_power; // Sb^m
  double background;
  double supply;

  Law(const Parameters& soil_, double background_, double supply_)
      : soil(soil_), inverse_index(1 / soil_.pore_size_index), background(background_), supply(supply_) {
    const double saturation = effective_saturation(soil, background);
    background_power = std::pow(saturation, 3 + inverse_index);
  }

  // d(content)/dt [1/s]; time_scale [s]: of the fastest change that the right side shows to a change of
  // content.
  double rate(double content, double water, double& time_scale) const {
    const double saturation = effective_saturation(soil, content);
    const double cube = saturation * saturation * saturation;
    const double root = std::pow(saturation, inverse_index);
    const double conductivity = soil.conductivity * cube * root * root;
    const double top = soil.conductivity * soil.wetting_front_suction / std::max(1 - background_power, 1e-12);
    const double drive = top * std::max(0.0, cube * root - background_power);
    const double excess = content - background;
    const double inverse_depth = excess / water;
    const double relative = 1 / std::max(content - soil.residual, 1e-12);
    const double conductivity_slope = (3 + 2 * inverse_index) * conductivity * relative;
    const double drive_slope = (3 + inverse_index) * top * cube * root * relative;
    const double fastest = conductivity_slope * inverse_depth + std::abs(supply - conductivity) / water +
                           (2 * drive / water + drive_slope * inverse_depth) * inverse_depth;
    time_scale = fastest > 0 ? 1 / fastest : std::numeric_limits<double>::infinity();
    return (supply - conductivity - drive * inverse_depth) * inverse_depth;
  }
};

} // namespace

double capillary_drive(const Parameters& soil, double content, double background) {
  const double power = 3 + 1 / soil.pore_size_index;
  const double below = std::pow(effective_saturation(soil, background), power);
  const double above = std::pow(effective_saturation(soil, content), power);
  return above > below ? soil.wetting_front_suction * (above - below) / (1 - below) : 0;
}

Block redistribute(const Parameters& soil, Block block, double supply, double below, double deepest,
                   double dt) {
  const Law law(soil, block.background, supply);
  const double gain = supply - below;
  const double final_water = block.water + gain * dt;
  double time = 0;
  if (block.water <= 0) { // the equation has no start at depth 0: let a hundredth of the step arrive first
    time = 0.01 * dt;
    block.water = gain * time;
  }
  while (time < dt && block.water > 0) {
    const double excess = block.content - block.background;
    if (excess <= 0 || block.water >= excess * deepest) break;
    double scale = 0;
    const double rate = law.rate(block.content, block.water, scale);
    const double step = std::min(dt - time, 0.15 * scale);
    const double middle_content = block.content + 0.5 * step * rate;
    const double middle_water = block.water + 0.5 * step * gain;
    if (middle_water <= 0) break;
    const double change = step * law.rate(middle_content, middle_water, scale);
    block.content = std::clamp(block.content + change, block.background, soil.porosity);
    block.water += step * gain;
    if (time + step <= time) break; // below the resolution of time: nothing more can change
    time += step;
  }
  block.water = std::max(0.0, final_water);
  return block;
}

} // namespace lowspot::soil
