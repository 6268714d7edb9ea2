#include <lowspot/soil/uptake.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/soil/column.hpp>
#include <lowspot/soil/moisture.hpp>
#include <lowspot/soil/zone.hpp>

namespace lowspot::soil {
namespace {

// Water that bare soil loses at full rate lies between these [m], near two fifths of all it can lose (Allen
// et al. 1998, table 19: sand 2 to 7 of 6 to 12 mm, silt loam 8 to 11 of 18 to 25 mm).
constexpr double least_easy = 0.002, most_easy = 0.012, easy_share = 0.4;

// Takes up to `water` from a front within the root zone: a saturated one recedes, any other gets drier.
double draw_from_front(double& front, double& content, double base, double depth, double roots, bool full,
                       double water) {
  if (front <= 0 || depth <= 0) return 0;
  const double taken = std::min(water, front * std::min(1.0, roots / depth));
  front -= taken;
  if (!full) content = base + front / depth;
  return taken;
}

// Takes `water` from the root zone, the wettest first, down to the content `driest`; returns what was taken.
double draw(Zone& zone, double water, double driest) {
  const double roots = zone.roots();
  double left = water;
  left -= draw_from_front(zone.second, zone.second_content, zone.front_content, zone.second_depth(), roots,
                          zone.second_saturated(), left);
  if (zone.second <= 0) zone.second_content = zone.soil->porosity;
  left -= draw_from_front(zone.front, zone.front_content, zone.background, zone.front_depth(), roots,
                          zone.front_saturated(), left);
  if (zone.front <= 0 || zone.front_content - zone.background <= same_content) {
    if (zone.front > 0 || zone.second > 0) dissolve_front(zone);
    if (zone.front <= 0) clear_fronts(zone);
  }
  const double span = std::max(0.0, roots - zone.front_depth());
  const double room = (zone.background - driest) * span - zone.root_deficit;
  const double taken = std::clamp(left, 0.0, std::max(0.0, room));
  zone.root_deficit += taken;
  fold_deficit(zone);
  return water - left + taken;
}

double air_in_roots(const Zone& zone) {
  const double all = zone.root_depth > 0 ? std::min(zone.root_depth, zone.depth) : zone.depth;
  const double above = std::min(all, zone.thickness);
  return std::max(0.0, zone.soil->porosity * above - water_in_top(zone, above)) / all;
}

} // namespace

double easily_evaporated_share(double evaporable) {
  if (evaporable <= 0) return 0;
  return std::clamp(easy_share * evaporable, least_easy, most_easy) / std::max(evaporable, least_easy);
}

double stressed_uptake(double demand, double stored, double capacity, double depletion_fraction) {
  if (demand <= 0 || stored <= 0) return 0;
  const double threshold = std::max(0.0, (1 - depletion_fraction) * capacity);
  const double free = std::max(0.0, stored - threshold);
  if (demand <= free) return demand;
  if (threshold <= 0) return std::min(demand, stored);
  return free - (stored - free) * std::expm1(-(demand - free) / threshold);
}

void take_up(Columns& columns, std::span<const double> saturated, std::span<const double> demand,
             std::span<const double> depletion_fraction, std::span<double> from_soil,
             std::span<double> from_saturated, double dt) {
  const std::size_t n = columns.active.size();
  for (std::size_t cell = 0; cell < n; ++cell) {
    from_soil[cell] = from_saturated[cell] = 0;
    if (!columns.active[cell] || demand[cell] <= 0 || columns.root_depth[cell] <= 0) continue;
    Zone zone = take_zone(columns, cell, saturated[cell]);
    if (zone.root_depth <= 0) continue; // bare, and none of it open
    const Parameters& soil = *zone.soil;
    const bool bare = columns.bare[cell] != 0;
    const double air_share = bare ? 1.0 : std::min(1.0, air_in_roots(zone) / air_for_full_uptake);
    if (air_share <= 0) continue;
    const double wanted = demand[cell] * air_share;
    const double all = std::min(zone.root_depth, zone.depth);
    const double above = zone.roots();
    const double wanted_above = wanted * above / all;

    const double driest = bare ? driest_bare_share * soil.wilting_point : soil.wilting_point;
    const double stored = water_in_top(zone, above) - driest * above;
    const double capacity = (soil.field_capacity - driest) * above;
    const double fraction =
        bare ? easily_evaporated_share(capacity / drying_share(columns, cell)) : depletion_fraction[cell];
    const double taking = stressed_uptake(wanted_above, stored, capacity, fraction);
    const double distance = zone.thickness - above;
    from_soil[cell] = draw(zone, taking, driest);

    const double held = std::max(0.0, saturated[cell]) * soil.drainable_porosity;
    double below = std::max(0.0, wanted - wanted_above);
    if (dt > 0 && held > 0) {
      below += std::min(wanted_above - from_soil[cell], capillary_rise(soil, distance) * dt);
    }
    from_saturated[cell] = std::min(below, held);
    put_zone(columns, cell, zone);
  }
}

double depletion(const Columns& columns, std::size_t cell, double saturated) {
  const Zone zone = take_zone(columns, cell, saturated);
  const double all = std::min(zone.root_depth, zone.depth);
  const double above = std::min(all, zone.thickness);
  const double held = water_in_top(zone, above) + zone.soil->porosity * (all - above);
  const double share = drying_share(columns, cell);
  return share > 0 ? std::max(0.0, zone.soil->field_capacity * all - held) / share : 0;
}

double available_capacity(const Columns& columns, std::size_t cell) {
  const Parameters& soil = columns.kinds[columns.kind[cell]];
  return (soil.field_capacity - soil.wilting_point) * std::min(columns.root_depth[cell], columns.depth[cell]);
}

double air_filled(const Columns& columns, std::size_t cell, double saturated) {
  return air_in_roots(take_zone(columns, cell, saturated));
}

} // namespace lowspot::soil
