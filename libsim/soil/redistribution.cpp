#include <lowspot/soil/redistribution.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/soil/moisture.hpp>

namespace lowspot::soil {
namespace {

// The longest step in local time scales, and from how many of them a block may be in balance.
constexpr double longest_step = 0.15;
constexpr double stiff = 3;
// How far from its balance the content may be, and how far this may move in one step.
constexpr double in_balance = 1e-3;
// After this many steps a film of less water than this [m] settles at once: its content moves a hair of water
// only.
constexpr int most_steps = 12;
constexpr double film = 2e-4;

// The right side of the equation and what the step rule needs of it.
struct Rate {
  double value = 0;    // d(content)/dt [1/s]
  double slope = 0;    // its change with content [1/s]
  double by_water = 0; // its change with the water in the block [1/(m s)]
  double fastest = 0;  // sum of the parts of the slope without sign [1/s]
};

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
    background_power = saturation * saturation * saturation * std::pow(saturation, inverse_index);
  }

  Rate operator()(double content, double water) const {
    const double saturation = effective_saturation(soil, content);
    const double cube = saturation * saturation * saturation;
    const double root = std::pow(saturation, inverse_index);
    const double conductivity = soil.conductivity * cube * root * root;
    const double top = soil.conductivity * soil.wetting_front_suction / std::max(1 - background_power, 1e-12);
    const double drive = top * std::max(0.0, cube * root - background_power);
    const double excess = content - background;
    const double per_water = 1 / water;
    const double per_depth = excess * per_water;
    const double relative = 1 / std::max(content - soil.residual, 1e-12);
    const double conductivity_part = (3 + 2 * inverse_index) * conductivity * relative * per_depth;
    const double drive_part =
        (2 * drive * per_water + (3 + inverse_index) * top * cube * root * relative * per_depth) * per_depth;
    const double supply_part = (supply - conductivity) * per_water;
    Rate rate;
    rate.value = (supply - conductivity - drive * per_depth) * per_depth;
    rate.slope = supply_part - conductivity_part - drive_part;
    rate.by_water = (2 * drive * per_depth - (supply - conductivity)) * per_depth * per_water;
    rate.fastest = std::abs(supply_part) + conductivity_part + drive_part;
    return rate;
  }
};

// One implicit step at the water of its end. Returns the change of content, not a number where that is not
// stable.
double implicit_change(const Law& law, const Block& block, double gain, double step) {
  const Rate at_end = law(block.content, block.water + gain * step);
  if (!(at_end.slope <= 0)) return std::numeric_limits<double>::quiet_NaN();
  return step * at_end.value / (1 - step * at_end.slope);
}

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
  for (int taken = 1; time < dt && block.water > 0; ++taken) {
    const double excess = block.content - block.background;
    if (excess <= 0 || block.water >= excess * deepest) break;
    const Rate rate = law(block.content, block.water);
    const double left = dt - time;
    // A thin block under a supply follows its balance of inflow and spreading once it has come to it: its own
    // time scale is then of no interest, and implicit steps as long as the balance hardly moves are both
    // stable and right.
    const bool too_thin = taken >= most_steps && block.water + gain * left < film;
    const bool settled = rate.slope < 0 && std::abs(rate.value) <= in_balance * -rate.slope;
    double step = too_thin || settled ? left : 0;
    for (; step * rate.fastest > stiff; step *= 0.5) {
      if (!(block.water + gain * step > 0)) continue;
      const double change = implicit_change(law, block, gain, step);
      if (!too_thin && !(std::abs(change) <= in_balance)) continue;
      // Down to where the block ends and no further: what reaches that is the caller's to see.
      const double lowest = block.background + (block.water + gain * step) / deepest;
      if (std::isfinite(change))
        block.content = std::clamp(block.content + change, std::min(lowest, block.content), soil.porosity);
      break;
    }
    if (step * rate.fastest > stiff) {
      block.water += step * gain;
      time = step < left ? time + step : dt;
      continue;
    }
    step = left * rate.fastest <= longest_step ? left : longest_step / rate.fastest;
    const double drift = 0.5 * step * rate.by_water * gain;
    const double change = step * (rate.value + drift) / (1 - 0.5 * step * rate.slope);
    block.content = std::clamp(block.content + change, block.background, soil.porosity);
    block.water += step * gain;
    if (time + step <= time) break; // below the resolution of time: nothing more can change
    time += step;
  }
  block.water = std::max(0.0, final_water);
  return block;
}

} // namespace lowspot::soil
