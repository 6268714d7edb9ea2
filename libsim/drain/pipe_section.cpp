#include <lowspot/drain/pipe_section.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace lowspot::drain {

namespace {

constexpr double slot_share = 0.005;      // width of the slot over the diameter
constexpr double highest_critical = 0.95; // of the diameter: up to there the critical flow follows its law

// Half the angle of the wetted arc and its sine and cosine.
struct Arc {
  double half = 0, sine = 0, cosine = 1;
};

Arc arc_at(double diameter, double y) {
  const double share = std::clamp(y / diameter, 0.0, 1.0);
  return {2 * std::asin(std::sqrt(share)), 2 * std::sqrt(share * (1 - share)), 1 - 2 * share};
}

double area_of(double diameter, const Arc& arc) {
  // The difference of arc and chord loses its digits in a thin film: there the series in the angle is exact.
  const double a = arc.half;
  const double segment =
      a < 0.02 ? a * a * a * (2.0 / 3.0 - a * a * (2.0 / 15.0)) : a - arc.cosine * arc.sine;
  return diameter * diameter / 4 * segment;
}

double conveyance_of(double manning_n, double area, double perimeter) {
  const double radius = area / perimeter;
  return area / manning_n * std::cbrt(radius * radius);
}

// Root of a rising function on [low, high] by bisection to round-off.
template <class Function>
double rising_root(double low, double high, Function function) {
  for (int i = 0; i < 200 && high - low > 1e-16 * high; ++i) {
    const double middle = 0.5 * (low + high);
    if (middle == low || middle == high) break;
    (function(middle) < 0 ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

} // namespace

double wetted_area(double diameter, double y) {
  return area_of(diameter, arc_at(diameter, y));
}

double wetted_perimeter(double diameter, double y) {
  return diameter * arc_at(diameter, y).half;
}

double top_width(double diameter, double y) {
  return diameter * arc_at(diameter, y).sine;
}

double depth_for_area(double diameter, double area) {
  if (area <= 0) return 0;
  if (area >= std::numbers::pi / 4 * diameter * diameter) return diameter;
  return rising_root(0, diameter, [&](double y) { return wetted_area(diameter, y) - area; });
}

double conveyance(double diameter, double manning_n, double y) {
  const Arc arc = arc_at(diameter, y);
  if (arc.half <= 1e-50) return 0;
  return conveyance_of(manning_n, area_of(diameter, arc), diameter * arc.half);
}

double full_flow(double diameter, double manning_n, double slope) {
  return conveyance(diameter, manning_n, diameter) * std::sqrt(std::max(slope, 0.0));
}

double greatest_flow(double diameter, double manning_n, double slope) {
  return conveyance(diameter, manning_n, depth_of_greatest_flow * diameter) * std::sqrt(std::max(slope, 0.0));
}

double normal_depth(double diameter, double manning_n, double slope, double q) {
  if (q <= 0) return 0;
  if (q >= greatest_flow(diameter, manning_n, slope)) return diameter;
  const double root_slope = std::sqrt(slope);
  return rising_root(0, depth_of_greatest_flow * diameter,
                     [&](double y) { return conveyance(diameter, manning_n, y) * root_slope - q; });
}

double critical_depth(double diameter, double q) {
  if (q <= 0) return 0;
  return rising_root(0, diameter, [&](double y) {
    const double area = wetted_area(diameter, y);
    return gravity * area * area * area - q * q * top_width(diameter, y);
  });
}

Section make_section(double diameter, double manning_n) {
  Section section;
  section.diameter = diameter;
  section.manning_n = manning_n;
  section.slot_width = slot_share * diameter;
  section.slot_depth = diameter / 2 * (1 - std::sqrt(1 - slot_share * slot_share));
  section.slot_area = wetted_area(diameter, section.slot_depth);
  section.full_area = std::numbers::pi / 4 * diameter * diameter;
  section.full_conveyance = conveyance(diameter, manning_n, diameter);
  return section;
}

namespace {

SectionState state_at(const Section& section, double y, bool with_conveyance) {
  SectionState state;
  const double d = section.diameter;
  const double extra = section.slot_width * section.slot_depth - section.slot_area;
  if (y <= section.slot_depth) {
    state.area = section.slot_width * y;
    state.width = section.slot_width;
    if (y <= 1e-9 * d) return state; // nothing flows; the powers of smaller depths would underflow
  }
  if (y >= d - section.slot_depth) {
    state.area =
        section.full_area - section.slot_area + extra + section.slot_width * (y - d + section.slot_depth);
    state.width = section.slot_width;
    state.conveyance = section.full_conveyance;
    return state;
  }
  const Arc arc = arc_at(d, y);
  const double area = area_of(d, arc);
  const double perimeter = d * arc.half;
  if (y > section.slot_depth) {
    state.area = area + extra;
    state.width = d * arc.sine;
  }
  if (!with_conveyance) return state;
  state.conveyance = conveyance_of(section.manning_n, area, perimeter);
  if (state.conveyance >= section.full_conveyance) {
    state.conveyance = section.full_conveyance;
  } else {
    const double width_over_area = d * arc.sine / area;
    state.conveyance_slope =
        state.conveyance * (5.0 / 3.0 * width_over_area - 2.0 / 3.0 * (2 / arc.sine) / perimeter);
  }
  return state;
}

} // namespace

SectionState at_depth(const Section& section, double y) {
  return state_at(section, y, true);
}

SectionState storage_at(const Section& section, double y) {
  return state_at(section, y, false);
}

double free_end_flow(const Section& section, double bed_slope, double y, double& slope_out) {
  slope_out = 0;
  if (y <= 1e-9 * section.diameter) return 0;
  const double d = section.diameter;
  // Near the crown the surface narrows and the critical flow would shoot up within a hair, then stay as it
  // is: from there on it goes up in a straight line, past any flow that a full pipe brings.
  const double curved = std::min(y, highest_critical * d);
  const SectionState at_curve = at_depth(section, curved);
  const Arc arc = arc_at(d, curved);
  const double width = std::max(d * arc.sine, section.slot_width);
  const double width_slope = width > section.slot_width ? 2 * arc.cosine / arc.sine : 0;
  double critical = at_curve.area * std::sqrt(gravity * at_curve.area / width);
  const double critical_slope = critical * (1.5 * at_curve.width / at_curve.area - 0.5 * width_slope / width);
  critical += critical_slope * (y - curved);
  const SectionState state = at_depth(section, y);
  const double root_slope = std::sqrt(std::max(bed_slope, 0.0));
  const double normal = state.conveyance * root_slope;
  if (normal > critical) {
    slope_out = state.conveyance_slope * root_slope;
    return normal;
  }
  slope_out = critical_slope;
  return critical;
}

double froude_squared(const Section& section, double q, double y) {
  if (y <= section.slot_depth) return 0;
  const SectionState state = storage_at(section, y);
  // The slot is no free surface: close under the crown the width goes to nothing, and stays so above it.
  const double free_width = std::clamp(2 * (state.width - section.slot_width), 0.0, state.width);
  return q * q * free_width / (gravity * state.area * state.area * state.area);
}

} // namespace lowspot::drain
