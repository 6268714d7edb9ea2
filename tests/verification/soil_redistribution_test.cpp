// Between storms: a wetted block spreads, a second storm meets what it left, and roots dry their zone.
#include "catch.hpp"
#include "figures.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include <lowspot/soil/column.hpp>
#include <lowspot/soil/moisture.hpp>
#include <lowspot/soil/redistribution.hpp>

using namespace lowspot::soil;

namespace {
constexpr double mm = 1e-3;
constexpr double hour = 3600;
constexpr double mm_h = mm / hour;

Parameters block_soil(double depth) {
  return {depth, 0.412, 0.207, 0.095, 0.041, 10.9 * mm_h, 0.1101, 0.378, 0.14};
}

struct Row {
  double hours, content, depth;
};
const std::vector<Row> table{{0.1, 0.386885, 0.084429}, {0.5, 0.346400, 0.101832}, {1, 0.325205, 0.114150},
                             {2, 0.304031, 0.129839},   {6, 0.272688, 0.162994},   {12, 0.254903, 0.190604},
                             {24, 0.238781, 0.225159},  {48, 0.224302, 0.268897}};
} // namespace

TEST_CASE("A block of 20 mm spreads as tabulated, and keeps the water the soil below does not take") {
  const Parameters soil = block_soil(2);
  const double below = conductivity_at(soil, 0.15);
  Block block{0.412, 0.15, 20 * mm};
  double time = 0;
  for (const Row& row : table) {
    while (time < row.hours * hour - 1) {
      block = redistribute(soil, block, 0, below, 100, 60);
      time += 60;
    }
    CHECK_THAT(block.content, WithinAbs(row.content, 1e-4));
    CHECK_THAT(block.water / (block.content - 0.15), WithinAbs(row.depth, 1e-4));
    CHECK_THAT(block.water, WithinAbs(20 * mm - below * time, 1e-12));
  }
}

TEST_CASE("A column spreads its front as tabulated within 1 % and keeps its water") {
  // Below field capacity the soil under the front passes nothing on (0.42 micrometres an hour in the table).
  Columns columns = make_columns({block_soil(2)}, {0}, {1}, {0.15});
  const std::vector<double> saturated{0.0}, burst{20 * mm}, none{0.0};
  std::vector<double> recharge(1);
  infiltrate(columns, saturated, burst, 600, recharge);
  CHECK_THAT(columns.front[0] / (0.412 - 0.15), WithinAbs(0.076336, 1e-6));
  double time = 0, previous = 0.412;
  for (const Row& row : table) {
    while (time < row.hours * hour - 1) {
      infiltrate(columns, saturated, none, 60, recharge);
      time += 60;
      CHECK(columns.front_content[0] < previous);
      previous = columns.front_content[0];
    }
    CHECK_THAT(columns.front_content[0], WithinRel(row.content, 0.01));
    figures::record("soil", "block of 20 mm that spreads, two days", "moisture of the front", row.content,
                    columns.front_content[0], figures::share(0.01));
    CHECK_THAT(columns.front[0] / (columns.front_content[0] - 0.15), WithinRel(row.depth, 0.01));
    figures::record("soil", "block of 20 mm that spreads, two days", "depth of the front, m", row.depth,
                    columns.front[0] / (columns.front_content[0] - 0.15), figures::share(0.01));
    CHECK_THAT(water_above(columns, 0, 0), WithinAbs(0.15 * 2 + 20 * mm, 1e-12));
  }
}

TEST_CASE("Re-wetting capacity after a pause is larger than before it, and does not fall with the pause") {
  for (double moisture : {0.15, 0.25, 0.33}) {
    Columns columns = make_columns({block_soil(2)}, {0}, {1}, {moisture});
    const std::vector<double> saturated{0.0}, burst{20 * mm}, none{0.0}, standing{5 * mm};
    std::vector<double> recharge(1), capacity(1);
    infiltrate(columns, saturated, burst, 600, recharge);
    infiltration_capacity(columns, saturated, standing, none, 600, capacity);
    double previous = capacity[0];
    for (int i = 0; i < 12; ++i) {
      infiltrate(columns, saturated, none, 2 * hour, recharge);
      infiltration_capacity(columns, saturated, standing, none, 600, capacity);
      if (i == 0) CHECK(capacity[0] > previous);
      CHECK(capacity[0] >= previous * (1 - 1e-12));
      previous = capacity[0];
    }
    // Never more than into the soil as it was before any rain.
    const Columns fresh = make_columns({block_soil(2)}, {0}, {1}, {moisture});
    infiltration_capacity(fresh, saturated, standing, none, 600, capacity);
    CHECK(previous < capacity[0]);
  }
}

// The rule is exact for steps of any length.
TEST_CASE("A root zone dries as FAO-56 gives, with hourly steps and with daily ones") {
  // 1.0 m of roots, 120 mm between field capacity and wilting point, 4 mm a day, 20 mm drawn already.
  const Parameters soil{1.5, 0.45, 0.27, 0.15, 0.03, 5 * mm_h, 0.1, 0.3, 0.06};
  const double days[] = {5, 10, 15, 20, 30, 45, 60};
  const double drawn[] = {40, 60, 77.00812, 89.19497, 104.18417, 114.18168, 117.85956};
  for (double step : {1.0 / 24, 1.0}) {
    Columns columns = make_columns({soil}, {0}, {1}, {0.27});
    columns.root_depth[0] = 1.0;
    columns.root_deficit[0] = 20 * mm;
    CHECK_THAT(available_capacity(columns, 0), WithinAbs(120 * mm, 1e-12));
    const std::vector<double> saturated{0.0}, demand{4 * mm * step}, fraction{0.5};
    std::vector<double> from_soil(1), from_saturated(1);
    double day = 0, sum = 20 * mm;
    for (int i = 0; i < 7; ++i) {
      while (day < days[i] - 0.5 * step) {
        take_up(columns, saturated, demand, fraction, from_soil, from_saturated);
        sum += from_soil[0];
        day += step;
      }
      CHECK_THAT(depletion(columns, 0, 0) / mm, WithinRel(drawn[i], 1e-6));
      figures::record("soil", "root zone that dries (FAO-56), 60 days", "depletion, mm", drawn[i],
                      depletion(columns, 0, 0) / mm, figures::share(step < 1 ? 0.005 : 0.01));
      CHECK_THAT(depletion(columns, 0, 0), WithinAbs(sum, 1e-13));
    }
  }
}
