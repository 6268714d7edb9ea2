// The perched table moves through the moisture above it: what it meets it takes in, what it leaves stays
// behind.
#include <algorithm>

#include <lowspot/soil/column.hpp>
#include <lowspot/soil/zone.hpp>

namespace lowspot::soil {
namespace {

// Fills the lowest layer of the zone, whose content is below the porosity by `deficit`, from its lower edge
// up to `top` at most, with `water` [m]. Returns the thickness filled; `water` is what is left, below 0 if it
// ran out.
double fill_layer(Zone& zone, double top, double deficit, double& water) {
  const double thickness = std::max(0.0, zone.thickness - top);
  const double need = std::max(0.0, deficit) * thickness;
  if (need <= water) {
    water -= need;
    zone.thickness = std::min(zone.thickness, top);
    return thickness;
  }
  const double filled = std::min(thickness, water / deficit);
  water = -1;
  zone.thickness -= filled;
  return filled;
}

// Raises the table by `water` >= 0; returns what found no room.
double raise(Zone& zone, double water) {
  const double porosity = zone.soil->porosity;
  const double first = zone.front_depth();
  const double second = zone.second_depth();
  const double roots = zone.root_deficit > 0 ? std::max(first, zone.roots()) : first;

  fill_layer(zone, roots, porosity - zone.background, water);
  if (water < 0) return 0;
  if (roots > first) {
    const double dryness = zone.root_deficit / (roots - first);
    const double filled = fill_layer(zone, first, porosity - zone.background + dryness, water);
    zone.root_deficit = std::max(0.0, zone.root_deficit - dryness * filled);
    if (water < 0) return 0;
  }
  if (first > 0) {
    const double filled = fill_layer(zone, second, porosity - zone.front_content, water);
    zone.front -= (zone.front_content - zone.background) * filled;
    if (water < 0) return 0;
  }
  if (second > 0) {
    const double filled = fill_layer(zone, 0, porosity - zone.second_content, water);
    zone.front -= (zone.front_content - zone.background) * filled;
    zone.second -= (zone.second_content - zone.front_content) * filled;
    if (water < 0) return 0;
  }
  zone.thickness = 0;
  zone.root_deficit = 0;
  clear_fronts(zone);
  return water;
}

// Lowers the table by `water` > 0, at most by the saturated thickness; returns what could not be had.
double lower(Zone& zone, double saturated, double water) {
  const double freed =
      std::max(smallest_fillable, zone.soil->drainable_porosity); // as the perched zone counts
  const double fall = std::min(saturated, water / freed);
  const double lacking = fall < saturated ? 0 : std::max(0.0, water - fall * freed);
  const double top = std::max(zone.front_depth(), zone.root_deficit > 0 ? zone.roots() : 0);
  const double below = std::max(0.0, zone.thickness - top);
  if (fall <= 0) return lacking;
  const double left = zone.soil->porosity - freed;
  zone.thickness += fall;
  set_background(zone, (zone.background * below + left * fall) / (below + fall));
  // A wetter background leaves a weak front less room than its water needs: it is then no front any more.
  while (zone.front > 0 && zone.front >= (zone.front_content - zone.background) * zone.thickness)
    dissolve_front(zone);
  return lacking;
}

} // namespace

void change_saturated(Columns& columns, std::span<double> saturated, std::span<const double> net_water,
                      std::span<double> overflow, std::span<double> short_of) {
  const std::size_t n = columns.active.size();
  for (std::size_t cell = 0; cell < n; ++cell) {
    overflow[cell] = short_of[cell] = 0;
    if (!columns.active[cell]) continue;
    const double change = net_water[cell];
    const bool full_below = columns.background[cell] >= columns.kinds[columns.kind[cell]].porosity;
    if (change == 0 && !full_below) {
      // Nothing moves unless a front has come down to the table.
      const double front = columns.front[cell];
      const double excess = columns.front_content[cell] - columns.background[cell];
      if (front <= 0 || front < excess * (columns.depth[cell] - saturated[cell])) continue;
    }
    Zone zone = take_zone(columns, cell, saturated[cell]);
    if (change >= 0) {
      overflow[cell] = zone.thickness > 0 ? raise(zone, change) : change;
    } else {
      short_of[cell] = lower(zone, std::min(saturated[cell], zone.depth), -change);
    }
    saturated[cell] = std::max(0.0, zone.depth - zone.thickness);
    fold_deficit(zone);
    put_zone(columns, cell, zone);
  }
}

void fillable_porosity(const Columns& columns, std::span<const double> saturated, std::span<double> rising,
                       std::span<double> falling) {
  const std::size_t n = columns.active.size();
  for (std::size_t cell = 0; cell < n; ++cell) {
    const Parameters& soil = columns.kinds[columns.kind[cell]];
    falling[cell] = rising[cell] = std::max(smallest_fillable, soil.drainable_porosity);
    if (!columns.active[cell] || saturated[cell] >= columns.depth[cell]) continue;
    const Zone zone = take_zone(columns, cell, saturated[cell]);
    rising[cell] = std::max(smallest_fillable, soil.porosity - content_above_table(zone));
  }
}

} // namespace lowspot::soil
