// Water enters at the top: bursts drive saturated fronts, anything less lets fronts redistribute.
#include <algorithm>

#include <lowspot/soil/column.hpp>
#include <lowspot/soil/redistribution.hpp>
#include <lowspot/soil/zone.hpp>

namespace lowspot::soil {
namespace {

// Less free space than this [m] is none: the column is full.
constexpr double no_space = 1e-12;
constexpr double reached = 1 - 1e-12;

// The inner front has come down to the lower edge of the first: one front of the inner content.
void join_fronts(Zone& zone) {
  const double depth = zone.front_depth();
  zone.front += zone.second;
  zone.front_content = zone.second_content;
  zone.second = 0;
  zone.second_content = zone.soil->porosity;
  fill_deficit(zone, depth);
}

bool second_reached_first(const Zone& zone) {
  const double excess = zone.second_content - zone.front_content;
  return zone.second > 0 && zone.second >= excess * zone.front_depth() * reached;
}

// A burst: a saturated front takes the water, a new one if the one that is there has spread meanwhile.
void drive_front(Zone& zone, double water) {
  if (zone.front > 0 && zone.second > 0 && !zone.second_saturated()) merge_fronts(zone);
  if (zone.front > 0 && !zone.front_saturated()) {
    if (zone.second <= 0) zone.second_content = zone.soil->porosity;
    zone.second += water;
    if (second_reached_first(zone)) join_fronts(zone);
    return;
  }
  const double depth = zone.front_depth();
  zone.front += water;
  zone.front_content = zone.soil->porosity;
  fill_deficit(zone, depth);
}

// open: share of the ground through which water gets in. Under it the blocks are as much deeper as the share
// is smaller, as if the soil of the whole cell stood below it.
void spread_first(Zone& zone, double water, double open, double dt) {
  const double depth = zone.front_depth();
  const Block before{zone.front_content, zone.background, zone.front / open};
  const Block after = redistribute(*zone.soil, before, water / open / dt, 0, zone.thickness / open, dt);
  zone.front += water; // not from the block: exact
  zone.front_content = after.content;
  fill_deficit(zone, depth);
}

void spread_second(Zone& zone, double water, double open, double dt) {
  const Block before{zone.second_content, zone.front_content, zone.second / open};
  const Block after = redistribute(*zone.soil, before, water / open / dt, 0, zone.front_depth() / open, dt);
  zone.second += water;
  zone.second_content = after.content;
  if (second_reached_first(zone)) {
    join_fronts(zone);
  } else if (zone.second_content - zone.front_content <= same_content) {
    merge_fronts(zone);
  }
}

// Both fronts spread as if each had the other for its background: the sum of water is exact, the profile
// approximate.
void spread_fronts(Zone& zone, double water, double open, double dt) {
  if (zone.second > 0) {
    spread_first(zone, 0, open, dt);
    if (zone.front > 0) {
      spread_second(zone, water, open, dt);
    } else {
      zone.front = zone.second + water;
      zone.front_content = zone.second_content;
      zone.second = 0;
    }
  } else {
    if (zone.front <= 0) zone.front_content = zone.soil->porosity;
    spread_first(zone, water, open, dt);
  }
  if (zone.front > 0 && zone.second <= 0 && zone.front_content - zone.background <= same_content) {
    dissolve_front(zone);
  }
}

// Fronts that have come down to the table. Returns what leaves the zone for the saturated one [m]: all of the
// front when the column is full, so that the table rises to the ground through the background. A front that
// is not saturated has made the zone uniform instead.
double arrive_at_table(Zone& zone) {
  if (zone.free_space() <= no_space) {
    const double leaving = zone.front + zone.second - zone.root_deficit;
    clear_fronts(zone);
    zone.root_deficit = 0;
    if (leaving >= 0) return leaving;
    zone.background += leaving / zone.thickness;
    return 0;
  }
  while (zone.front > 0 && zone.front_depth() >= zone.thickness * reached) dissolve_front(zone);
  return 0;
}

} // namespace

void infiltrate(Columns& columns, std::span<const double> saturated, std::span<const double> water, double dt,
                std::span<double> recharge, std::span<const std::uint8_t> sealed) {
  const std::size_t n = columns.active.size();
  for (std::size_t cell = 0; cell < n; ++cell) {
    recharge[cell] = 0;
    if (!columns.active[cell]) continue;
    const double arriving = water[cell];
    if (arriving <= 0 && columns.front[cell] <= 0) continue;
    Zone zone = take_zone(columns, cell, saturated[cell]);
    if (zone.thickness <= 0 || (!sealed.empty() && sealed[cell])) {
      recharge[cell] = arriving;
      continue;
    }
    // A supply equal to the conductivity is a burst, whatever rounding makes of it.
    const double open = columns.open[cell] > 0 ? columns.open[cell] : 1;
    const double burst = open * zone.soil->conductivity * dt * (1 - 1e-9);
    if (zone.free_space() - arriving <= no_space) {
      zone.front += arriving; // full: nothing is left to spread into
    } else if (arriving > 0 && arriving >= burst) {
      drive_front(zone, arriving);
    } else {
      spread_fronts(zone, std::max(0.0, arriving), open, dt);
    }
    recharge[cell] = arrive_at_table(zone);
    put_zone(columns, cell, zone);
  }
}

} // namespace lowspot::soil
