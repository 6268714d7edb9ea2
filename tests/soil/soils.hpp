// Soils and one-cell helpers shared by the tests of this layer.
#pragma once
#include <algorithm>
#include <vector>

#include <lowspot/soil/column.hpp>

namespace soils {
using lowspot::soil::Columns;
using lowspot::soil::Parameters;

inline constexpr double mm = 1e-3;
inline constexpr double hour = 3600;
inline constexpr double mm_h = mm / hour;

inline Parameters sandy_loam(double depth = 0.3) {
  return {depth, 0.412, 0.207, 0.095, 0.041, 10.9 * mm_h, 0.1101, 0.378, 0.14};
}
inline Parameters silt_loam(double depth = 0.18) {
  return {depth, 0.501, 0.33, 0.133, 0.015, 6.5 * mm_h, 0.1668, 0.211, 0.06};
}
inline Parameters clay(double depth = 0.25) {
  return {depth, 0.475, 0.396, 0.272, 0.09, 0.3 * mm_h, 0.3163, 0.131, 0.03};
}
inline Parameters sand(double depth = 0.6) {
  return {depth, 0.437, 0.091, 0.033, 0.02, 117.8 * mm_h, 0.0495, 0.592, 0.25};
}

inline Columns one_column(const Parameters& soil, double moisture) {
  return lowspot::soil::make_columns({soil}, {0}, {1}, {moisture});
}

// One cell driven through the calls that work on arrays.
struct Column {
  Columns columns;
  std::vector<double> saturated{0.0};

  Column(const Parameters& soil, double moisture) : columns(one_column(soil, moisture)) {}

  double capacity(double supply, double dt, double ponded = 0) const {
    const std::vector<double> standing{ponded}, arriving{supply};
    std::vector<double> rate(1);
    lowspot::soil::infiltration_capacity(columns, saturated, standing, arriving, dt, rate);
    return rate[0];
  }
  // Returns the recharge [m].
  double infiltrate(double water, double dt) {
    const std::vector<double> entering{water};
    std::vector<double> recharge(1);
    lowspot::soil::infiltrate(columns, saturated, entering, dt, recharge);
    return recharge[0];
  }
  // Steady supply on a column with `ponded` [m] standing; returns what went in and updates ponded.
  double rain(double supply, double dt, double& ponded) {
    const double available = ponded + supply * dt;
    const double entering = std::min(available, capacity(supply, dt, ponded) * dt);
    infiltrate(entering, dt);
    ponded = available - entering;
    return entering;
  }
  double drain(double dt) {
    std::vector<double> recharge{0.0};
    lowspot::soil::drain_by_gravity(columns, saturated, dt, recharge);
    return recharge[0];
  }
  struct Change {
    double overflow, short_of;
  };
  Change change(double net) {
    const std::vector<double> water{net};
    std::vector<double> overflow(1), short_of(1);
    lowspot::soil::change_saturated(columns, saturated, water, overflow, short_of);
    return {overflow[0], short_of[0]};
  }
  struct Taken {
    double soil, saturated;
  };
  Taken take_up(double demand, double fraction, double dt = 0) {
    const std::vector<double> wanted{demand}, depletion{fraction};
    std::vector<double> from_soil(1), from_saturated(1);
    lowspot::soil::take_up(columns, saturated, wanted, depletion, from_soil, from_saturated, dt);
    return {from_soil[0], from_saturated[0]};
  }
  double water() const {
    return lowspot::soil::water_above(columns, 0, saturated[0]) +
           lowspot::soil::water_saturated(columns, 0, saturated[0]);
  }
  double front_depth() const {
    return columns.front[0] > 0 ? columns.front[0] / (columns.front_content[0] - columns.background[0]) : 0;
  }
};

} // namespace soils
