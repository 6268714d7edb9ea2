// The unsaturated zone of one column, taken out of the arrays, and what every process does to it: read
// depths, and move water between background, fronts and root deficit without changing the sum.
#pragma once
#include <algorithm>
#include <cstddef>

#include <lowspot/soil/column.hpp>

namespace lowspot::soil {

// Two contents closer than this are one content.
inline constexpr double same_content = 1e-6;

// One column above its table.
struct Zone {
  const Parameters* soil = nullptr;      // not owned; lives as long as the columns
  double depth = 0;                      // D of this column [m]
  double thickness = 0;                  // T = D - H [m]
  double background = 0;                 // content below the fronts [m3/m3]
  double front = 0, front_content = 0;   // water beyond the background [m]; m3/m3
  double second = 0, second_content = 0; // of a front within the first, beyond it [m]; m3/m3
  double root_deficit = 0;               // m, lies between the first front and the lowest root
  double root_depth = 0;                 // m

  // Depths that the fronts and the roots reach within the zone [m].
  double front_depth() const {
    return front > 0 ? std::min(thickness, front / (front_content - background)) : 0;
  }
  // How far down the second front reaches [m].
  double second_depth() const {
    return second > 0 ? std::min(front_depth(), second / (second_content - front_content)) : 0;
  }
  double roots() const { return std::min(root_depth, thickness); }
  bool front_saturated() const { return front_content >= soil->porosity; }
  bool second_saturated() const { return second_content >= soil->porosity; }
  double water() const { return background * thickness + front + second - root_deficit; }
  // Pore space not yet filled [m].
  double free_space() const {
    return (soil->porosity - background) * thickness - front - second + root_deficit;
  }
};

// Share of its cell from whose ground a column loses water to air or plants: of a bare one the open share,
// since what lies under a slab does not dry; roots reach under it.
inline double drying_share(const Columns& columns, std::size_t cell) {
  return columns.bare[cell] ? std::clamp(columns.open[cell], 0.0, 1.0) : 1.0;
}

// One column above the table, copied out of the arrays (saturated: H [m]), and put back. The layer of bare
// ground that dries is as much thinner as the open share is smaller, as if it lay under all of the cell.
inline Zone take_zone(const Columns& columns, std::size_t cell, double saturated) {
  Zone zone;
  zone.soil = &columns.kinds[columns.kind[cell]];
  zone.depth = columns.depth[cell];
  zone.thickness = std::max(0.0, zone.depth - saturated);
  zone.background = columns.background[cell];
  zone.front = columns.front[cell];
  zone.front_content = columns.front_content[cell];
  zone.second = columns.second_front[cell];
  zone.second_content = columns.second_content[cell];
  zone.root_deficit = columns.root_deficit[cell];
  zone.root_depth = columns.root_depth[cell] * drying_share(columns, cell);
  return zone;
}

// Back into the arrays; the table itself is not among them.
inline void put_zone(Columns& columns, std::size_t cell, const Zone& zone) {
  columns.background[cell] = zone.background;
  columns.front[cell] = zone.front;
  columns.front_content[cell] = zone.front_content;
  columns.second_front[cell] = zone.second;
  columns.second_content[cell] = zone.second_content;
  columns.root_deficit[cell] = zone.root_deficit;
}

// Water held by the uppermost `depth` of the zone (at most its thickness) [m].
double water_in_top(const Zone& zone, double depth);

// Content of the lowest layer of the zone, just above the table.
double content_above_table(const Zone& zone);

// Removes both fronts and leaves their water out: the caller has moved it.
void clear_fronts(Zone& zone);

// Spreads the first front over the whole zone; the second, if any, becomes the first.
void dissolve_front(Zone& zone);

// One front in place of two, as deep as the first.
void merge_fronts(Zone& zone);

// Lets a front that has grown or spread from old_depth fill the root deficit it met on its way.
void fill_deficit(Zone& zone, double old_depth);

// Where roots reach through the whole zone the deficit is everywhere below the front: makes it background.
void fold_deficit(Zone& zone);

// Gives the soil below fronts and root deficit another content; what fronts and roots hold stays. The sum
// changes by (content - background) * (thickness - depth of fronts and deficit).
void set_background(Zone& zone, double content);

} // namespace lowspot::soil
