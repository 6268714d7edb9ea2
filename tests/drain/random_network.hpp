// Networks and loads drawn at random from a seed: trees of runs with everything a drain can have.
#pragma once
#include <algorithm>
#include <cmath>
#include <random>
#include <string>
#include <vector>

#include <lowspot/drain/drain.hpp>

namespace lowspot::drain::testing {

struct Dice {
  explicit Dice(unsigned seed) : random(seed) {}
  double between(double low, double high) { return low + (high - low) * share(random); }
  int whole(int low, int high) { return low + static_cast<int>(between(0, 1) * (high - low + 1 - 1e-9)); }
  bool chance(double p) { return between(0, 1) < p; }
  double decades(double low, double high) { return std::exp(between(std::log(low), std::log(high))); }
  std::mt19937 random;
  std::uniform_real_distribution<double> share{0, 1};
};

inline double tilted_ground(Point at) {
  return 100 + 0.02 * at.x - 0.01 * at.y;
}

inline Outlet random_outlet(Dice& dice, const std::string& name, Point at, double invert) {
  Outlet outlet;
  outlet.name = name;
  outlet.kind = static_cast<OutletKind>(dice.whole(0, 4));
  outlet.at = at;
  outlet.invert = invert;
  const double ground = tilted_ground(at);
  if (outlet.kind == OutletKind::submerged) {
    outlet.level = invert + dice.between(-0.2, 1.0);
    if (dice.chance(0.6)) { // drowned, then freed
      outlet.times = {0, dice.between(100, 900), dice.between(1000, 2000), dice.between(3000, 6000)};
      outlet.levels = {invert - 0.3, invert + dice.between(0, 1.2), invert + dice.between(0, 1.2),
                       invert - 0.3};
    }
  }
  if (outlet.kind == OutletKind::pop_up) {
    outlet.level = invert + (dice.chance(0.5) ? dice.between(0, 0.5) : -1);
    outlet.opening_head = dice.between(0, 0.2);
    outlet.weep_area = dice.chance(0.5) ? dice.between(1e-5, 2e-4) : 0;
  }
  if (outlet.kind == OutletKind::dry_well || outlet.kind == OutletKind::pump) {
    outlet.chamber.area = dice.decades(0.05, 3);
    outlet.chamber.bottom = invert - dice.between(0.2, 1.2);
    outlet.chamber.top = std::max(ground, invert + 0.05);
    outlet.mouth =
        Mouth{outlet.chamber.top, dice.between(0.3, 3), dice.between(0.01, 0.2), 0, dice.chance(0.5), {at}};
  }
  if (outlet.kind == OutletKind::dry_well) {
    outlet.chamber.soak_conductivity = dice.chance(0.2) ? 0 : dice.decades(1e-8, 1e-4);
    outlet.chamber.soak_plan = outlet.chamber.area / 0.4;
    outlet.chamber.soak_perimeter = 2 * std::sqrt(M_PI * outlet.chamber.soak_plan);
    outlet.chamber.soak_top = outlet.chamber.top - dice.between(0, 0.3);
  }
  if (outlet.kind == OutletKind::pump) {
    outlet.pump.off = outlet.chamber.bottom + dice.between(0.01, 0.08);
    outlet.pump.on = outlet.pump.off + dice.between(0.02, invert - outlet.pump.off + 0.1);
    outlet.pump.rate = dice.decades(1e-4, 1e-2);
    if (dice.chance(0.3)) {
      outlet.pump.fails_from = dice.between(0, 2000);
      outlet.pump.fails_to = outlet.pump.fails_from + dice.between(1, 4000);
    }
  }
  return outlet;
}

inline Run random_run(Dice& dice, const std::string& name, Point foot, double foot_invert) {
  Run run;
  run.name = name;
  const double reach = dice.between(0.8, 14), heading = dice.between(0, 2 * M_PI);
  const double fall = dice.chance(0.15) ? 0 : dice.decades(1e-4, 0.08);
  const Point head{foot.x + reach * std::cos(heading), foot.y + reach * std::sin(heading)};
  run.path = {head, foot};
  run.inverts = {foot_invert + fall * reach, foot_invert};
  if (dice.chance(0.3)) { // a bend
    const double t = dice.between(0.2, 0.8), aside = dice.between(-1, 1);
    run.path.insert(run.path.begin() + 1, {head.x + t * (foot.x - head.x) - aside * std::sin(heading),
                                           head.y + t * (foot.y - head.y) + aside * std::cos(heading)});
    run.inverts.insert(run.inverts.begin() + 1,
                       run.inverts[0] + dice.between(0, 1) * (foot_invert - run.inverts[0]));
  }
  run.has_trench = dice.chance(0.65);
  run.pipe.diameter = dice.decades(0.03, 0.3);
  run.pipe.manning_n = dice.between(0.009, 0.025);
  run.pipe.slot_area = run.has_trench && dice.chance(0.9) ? dice.decades(1e-4, 1e-2) : 0;
  if (run.has_trench) {
    run.trench_width = dice.between(0.15, 0.6);
    run.bedding = dice.chance(0.3) ? 0 : dice.between(0, 0.15);
    run.stone = {dice.between(0.25, 0.5), dice.decades(1e-3, 0.5),
                 dice.chance(0.2) ? 0 : dice.decades(1, 1000)};
    run.cap = {dice.chance(0.1) ? 0 : dice.decades(1e-7, 0.1),
               dice.chance(0.3) ? 0 : dice.between(0.01, 0.15)};
    run.fabric = {dice.chance(0.3) ? 0 : dice.decades(0.01, 2), dice.decades(1, 1000)};
    run.bottom_conductivity = dice.chance(0.3) ? 0 : dice.decades(1e-10, 1e-5);
  }
  return run;
}

// A tree of 1 to 12 runs with one or two outlets, free of problems.
inline Layout random_layout(Dice& dice) {
  Layout layout;
  layout.station_spacing = dice.between(0.6, 4);
  const double first_invert = 100 - dice.between(0.3, 1.5);
  layout.outlets = {random_outlet(dice, "end", {0, 0}, first_invert)};
  const int runs = dice.whole(1, 12);
  for (int k = 0; k < runs; ++k) {
    const std::string name = "run " + std::to_string(k);
    if (k == 0 || dice.chance(0.1)) {
      Run run = random_run(dice, name, {0, 0}, first_invert + (dice.chance(0.3) ? dice.between(0, 0.2) : 0));
      run.to = "end";
      layout.runs.push_back(run);
      continue;
    }
    Run& next = layout.runs[static_cast<std::size_t>(dice.whole(0, k - 1))];
    if (next.from.empty()) {
      next.from = "joint " + std::to_string(layout.fittings.size());
      Fitting joint{next.from, next.path.front()};
      if (dice.chance(0.3)) joint.loss = dice.between(0, 3);
      if (dice.chance(0.25)) // a cleanout
        joint.mouth = Mouth{std::max(tilted_ground(joint.at), next.inverts[0] + 0.1),
                            0.3,
                            0.008,
                            dice.chance(0.5) ? dice.between(0, 0.2) : 0,
                            false,
                            {joint.at}};
      layout.fittings.push_back(joint);
    }
    Run run = random_run(dice, name, next.path.front(),
                         next.inverts.front() + (dice.chance(0.4) ? dice.between(0, 0.15) : 0));
    run.to = next.from;
    if (dice.chance(0.1) && next.has_trench && run.has_trench) run.pipe.diameter = run.pipe.slot_area = 0;
    layout.runs.push_back(run);
  }
  if (!layout.fittings.empty() && dice.chance(0.2)) { // a second way out of a fitting
    const Fitting& joint =
        layout
            .fittings[static_cast<std::size_t>(dice.whole(0, static_cast<int>(layout.fittings.size()) - 1))];
    double lowest = 1e9;
    for (const Run& run : layout.runs) {
      if (run.to == joint.name) lowest = std::min(lowest, run.inverts.back());
      if (run.from == joint.name) lowest = std::min(lowest, run.inverts.front());
    }
    Run run = random_run(dice, "second way", {joint.at.x + 5, joint.at.y - 3}, lowest - 0.3);
    run.path = {joint.at, run.path.back()};
    run.inverts = {lowest, lowest - 0.3};
    run.from = joint.name;
    run.to = "second end";
    layout.outlets.push_back(random_outlet(dice, "second end", run.path.back(), lowest - 0.3));
    layout.runs.push_back(run);
  }
  const bool has_joints = !layout.fittings.empty();
  const auto any_target = [&]() -> std::string {
    if (has_joints && dice.chance(0.4)) return "joint 0";
    return layout.runs[static_cast<std::size_t>(dice.whole(0, static_cast<int>(layout.runs.size()) - 1))]
        .name;
  };
  const int inlets = dice.chance(0.5) ? dice.whole(1, 3) : 0;
  for (int k = 0; k < inlets; ++k) {
    Fitting inlet;
    inlet.name = "inlet " + std::to_string(k);
    inlet.at = {dice.between(-10, 10), dice.between(-10, 10)};
    const double ground = tilted_ground(inlet.at);
    const double invert = ground - dice.between(0.2, 0.8), height = dice.between(0.05, 0.15);
    inlet.chamber = {dice.decades(0.02, 0.5), invert - dice.between(0, 0.3), ground};
    inlet.mouth = Mouth{ground, dice.between(0.3, 2), dice.between(0.01, 0.2), 0, true, {inlet.at}};
    inlet.link = {any_target(), invert, height, 0.61 * 0.785 * height * height * std::sqrt(9.81 * height)};
    layout.fittings.push_back(inlet);
  }
  const int taps = dice.chance(0.5) ? dice.whole(1, 3) : 0;
  for (int k = 0; k < taps; ++k) {
    const Point at{dice.between(-10, 10), dice.between(-10, 10)};
    layout.taps.push_back({"spout " + std::to_string(k), any_target(), at,
                           Mouth{std::max(tilted_ground(at), 100.5), 0.25, 0.005, 0, false, {at}}});
  }
  return layout;
}

} // namespace lowspot::drain::testing
