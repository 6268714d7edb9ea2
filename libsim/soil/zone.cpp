#include <lowspot/soil/zone.hpp>

namespace lowspot::soil {

double water_in_top(const Zone& zone, double depth) {
  const double reach = std::min(depth, zone.thickness);
  double water = zone.background * reach;
  if (zone.front > 0) {
    const double first = zone.front_depth();
    if (first > 0) water += zone.front * std::min(1.0, reach / first);
    const double second = zone.second_depth();
    if (second > 0) water += zone.second * std::min(1.0, reach / second);
  }
  if (zone.root_deficit > 0) {
    const double top = zone.front_depth();
    const double span = zone.roots() - top;
    water -= zone.root_deficit * (span > 0 ? std::clamp((reach - top) / span, 0.0, 1.0) : 1.0);
  }
  return water;
}

double content_above_table(const Zone& zone) {
  if (zone.root_deficit > 0 && zone.root_depth >= zone.thickness) {
    const double span = zone.thickness - zone.front_depth();
    if (span > 0) return zone.background - zone.root_deficit / span;
  }
  return zone.background;
}

void clear_fronts(Zone& zone) {
  zone.front = zone.second = 0;
  zone.front_content = zone.second_content = zone.soil->porosity;
}

void dissolve_front(Zone& zone) {
  zone.background += zone.front / zone.thickness;
  zone.front = zone.second;
  zone.front_content = zone.second_content;
  zone.second = 0;
  zone.second_content = zone.soil->porosity;
  if (zone.front > 0 && zone.front_content - zone.background > same_content) return;
  zone.background += zone.front / zone.thickness;
  clear_fronts(zone);
}

void merge_fronts(Zone& zone) {
  const double depth = zone.front_depth();
  zone.front += zone.second;
  zone.front_content = std::min(zone.soil->porosity, zone.background + zone.front / depth);
  zone.second = 0;
  zone.second_content = zone.soil->porosity;
}

void fill_deficit(Zone& zone, double old_depth) {
  if (zone.root_deficit <= 0 || zone.front <= 0) return;
  double filled = zone.root_deficit;
  const double span = zone.roots() - old_depth;
  if (span > 0) {
    const double dryness = zone.root_deficit / span;
    const double excess = zone.front_content - zone.background;
    const double advance = (zone.front - excess * old_depth) / (excess + dryness);
    filled = std::clamp(dryness * advance, 0.0, zone.root_deficit);
  }
  filled = std::min(filled, zone.front);
  zone.front -= filled;
  zone.root_deficit -= filled;
}

void fold_deficit(Zone& zone) {
  if (zone.root_deficit <= 0 || zone.root_depth < zone.thickness || zone.thickness <= 0) return;
  const double depth = zone.front_depth();
  const double below = zone.thickness - depth;
  if (below <= 0) {
    zone.background -= zone.root_deficit / zone.thickness;
  } else {
    zone.background -= zone.root_deficit / below;
    zone.front += zone.root_deficit / below * depth;
  }
  zone.root_deficit = 0;
}

void set_background(Zone& zone, double content) {
  const double depth = zone.front_depth();
  const double change = content - zone.background;
  zone.background = content;
  zone.front -= change * depth;
  if (zone.root_deficit > 0) zone.root_deficit += change * std::max(0.0, zone.roots() - depth);
  if (zone.root_deficit < 0) { // the roots' soil is wetter than what is below: it evens out
    const double gain = -zone.root_deficit / (zone.thickness - depth);
    zone.background += gain;
    zone.front -= gain * depth;
    zone.root_deficit = 0;
  }
  if (depth > 0 && zone.front_content - zone.background <= same_content) dissolve_front(zone);
}

} // namespace lowspot::soil
