// Gravity drainage of the soil below fronts and roots' deficit.
#include <algorithm>

#include <lowspot/soil/column.hpp>
#include <lowspot/soil/moisture.hpp>
#include <lowspot/soil/zone.hpp>

namespace lowspot::soil {

void drain_by_gravity(Columns& columns, std::span<const double> saturated, double dt,
                      std::span<double> recharge, std::span<const std::uint8_t> sealed) {
  const std::size_t n = columns.active.size();
  for (std::size_t cell = 0; cell < n; ++cell) {
    if (!columns.active[cell] || (!sealed.empty() && sealed[cell])) continue;
    if (columns.background[cell] <= columns.kinds[columns.kind[cell]].field_capacity) continue;
    Zone zone = take_zone(columns, cell, saturated[cell]);
    const double top = std::max(zone.front_depth(), zone.root_deficit > 0 ? zone.roots() : 0);
    const double below = zone.thickness - top;
    if (below <= 0) continue;
    const double content = drained_content(*zone.soil, zone.background, below, dt);
    recharge[cell] += (zone.background - content) * below;
    set_background(zone, content);
    put_zone(columns, cell, zone);
  }
}

} // namespace lowspot::soil
