// One storm, two days of rest and a second burst on a column and on the reference, side by side.
#pragma once
#include <algorithm>
#include <limits>
#include <vector>

#include <lowspot/soil/column.hpp>
#include <lowspot/soil/zone.hpp>

#include "richards.hpp"

namespace against_richards {
using lowspot::soil::Parameters;

inline constexpr double mm = 1e-3;
inline constexpr double hour = 3600;
inline constexpr double mm_h = mm / hour;

struct Storm {
  double rate, duration; // the first
  double pause;
  double second_rate, second_duration;
};

struct Answer {
  double infiltrated = 0; // by the end of the first storm [m]
  double ponds_at = std::numeric_limits<double>::infinity();
  double gained_top = 0,
         gained = 0; // water over that at the start when the pause ends: in the top, in all [m]
  double second = 0; // goes in during the second burst [m]
};

// The depth of soil that plants and a spade know [m].
inline constexpr double top = 0.20;

// The wetting branch of the soil: the air entry whose conductivity integrates to the suction of the front
// (Neuman 1976). Bouwer (1966) puts it at half of that on drying, which is what the table of Rawls et al. is
// made with.
inline richards::Soil wetting_branch(const Parameters& soil) {
  const double index = 3 * soil.pore_size_index;
  return {soil.conductivity,
          soil.porosity,
          soil.residual,
          soil.pore_size_index,
          soil.wetting_front_suction * (1 + index) / (2 + index),
          soil.crust_conductivity,
          soil.crust_thickness};
}

inline Answer by_reference(const Parameters& soil, double moisture, const Storm& storm,
                           richards::Bottom bottom, double air_entry_factor = 1,
                           const richards::Options& options = {}) {
  richards::Soil branch = wetting_branch(soil);
  branch.air_entry *= air_entry_factor;
  richards::Column column(branch, soil.depth, moisture, bottom, options);
  Answer answer;
  const double before_top = column.water(top), before = column.water();
  column.rain(storm.rate, storm.duration);
  answer.infiltrated = column.infiltrated;
  answer.ponds_at = column.ponded_since;
  column.rain(0, storm.pause);
  answer.gained_top = column.water(top) - before_top;
  answer.gained = column.water() - before;
  column.rain(storm.second_rate, storm.second_duration);
  answer.second = column.infiltrated - answer.infiltrated;
  return answer;
}

// What a column takes in goes to the table where `closed`, or leaves below.
inline Answer by_column(const Parameters& soil, double moisture, const Storm& storm, bool closed, double dt) {
  using namespace lowspot::soil;
  Columns columns = make_columns({soil}, {0}, {1}, {moisture});
  columns.ponded_head = false; // what does not go in runs off at once
  std::vector<double> saturated{0.0}, none{0.0}, supply{0.0}, capacity{0.0}, entering{0.0}, recharge{0.0},
      overflow{0.0}, short_of{0.0};
  Answer answer;
  double time = 0, infiltrated = 0;
  const auto rain = [&](double rate, double duration) {
    for (int left = static_cast<int>(duration / dt + 0.5); left > 0; --left) {
      supply[0] = rate;
      infiltration_capacity(columns, saturated, none, supply, dt, capacity);
      entering[0] = std::min(capacity[0], rate) * dt;
      if (entering[0] < rate * dt * (1 - 1e-9)) answer.ponds_at = std::min(answer.ponds_at, time);
      infiltrate(columns, saturated, entering, dt, recharge);
      drain_by_gravity(columns, saturated, dt, recharge);
      if (closed) change_saturated(columns, saturated, recharge, overflow, short_of);
      infiltrated += entering[0];
      time += dt;
    }
  };
  const auto in_top = [&] {
    const Zone zone = take_zone(columns, 0, saturated[0]);
    return water_in_top(zone, top) + soil.porosity * std::max(0.0, top - zone.thickness);
  };
  const auto in_all = [&] { return water_above(columns, 0, saturated[0]) + soil.porosity * saturated[0]; };
  const double before_top = in_top(), before = in_all();
  rain(storm.rate, storm.duration);
  answer.infiltrated = infiltrated;
  rain(0, storm.pause);
  answer.gained_top = in_top() - before_top;
  answer.gained = in_all() - before;
  rain(storm.second_rate, storm.second_duration);
  answer.second = infiltrated - answer.infiltrated;
  return answer;
}

} // namespace against_richards
