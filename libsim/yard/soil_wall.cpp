#include <lowspot/yard/soil_wall.hpp>

#include <algorithm>
#include <limits>

#include <lowspot/yard/trench_cut.hpp>

namespace lowspot::yard {

void find_soil_wall(const perched::Layer& layer, std::span<const drain::Station> stations,
                    std::span<const WallContact> contacts, std::span<const perched::Exchange> exchanges,
                    std::span<const double> exchanged, std::span<const double> saturated,
                    std::span<double> height, std::span<double> giving) {
  std::fill(height.begin(), height.end(), 0.0);
  std::fill(giving.begin(), giving.end(), 0.0);
  for (std::size_t k = 0; k < exchanges.size(); ++k) {
    if (!(exchanged[k] > 0)) continue;
    const int cell = contacts[k].cell;
    const drain::Station& at = stations[contacts[k].station];
    const double depth = layer.thickness[cell];
    const double top = layer.tight_elevation[cell] + depth; // the soil's own ground, as for its conductance
    const double exposed = std::clamp(top - at.trench_bottom, 0.0, depth);
    const double inside = std::clamp(exchanges[k].level - layer.tight_elevation[cell], 0.0, depth);
    // A trench that ends above the tight layer trades in proportion to what it exposes of the soil.
    const double passed = exposed * 0.5 * (std::min(saturated[cell], depth) + inside) / depth;
    height[contacts[k].station] += contacts[k].fabric * passed;
    giving[contacts[k].station] += exchanged[k];
  }
}

double most_to_soil(const drain::Station& station, double bottom_conductivity, double level,
                    const perched::Layer& layer, int cell, double saturated) {
  if (reaches_tight_layer(station.trench_bottom, layer, cell, cell) ||
      layer.tight_elevation[cell] + saturated >= station.trench_bottom)
    return std::numeric_limits<double>::infinity();
  const double wetted = station.trench_width + 2 * std::max(0.0, level - station.trench_bottom);
  return station.length *
         std::max(0.0, layer.conductivity[cell] * wetted - bottom_conductivity * station.trench_width);
}

} // namespace lowspot::yard
