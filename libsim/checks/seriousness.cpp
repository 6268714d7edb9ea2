#include <lowspot/checks/seriousness.hpp>

#include <algorithm>

namespace lowspot::checks {

const std::vector<std::string>& by_seriousness() {
  static const std::vector<std::string> order = {
      // People, gas and power, the house.
      "trench_depth", "utility_crossing", "utility_beside", "footing", "overflow",
      // Without these no water leaves, or it comes back.
      "outlet_free", "pump_discharge",
      // Health, and other people's ground.
      "well_distance", "septic_upslope", "septic_downslope", "neighbour_increase", "lot_line_distance",
      "right_of_way_distance", "keep_off",
      // The house stays dry, trees stand, the ground is free again.
      "house_fall", "house_fall_paved", "soak_from_house", "roots", "drain_down",
      // The pipe lasts and stays clear.
      "pipe_fall", "pipe_cover", "frost", "outlet_velocity", "pipe_full", "silting"};
  return order;
}

std::size_t seriousness(const std::string& id) {
  const std::vector<std::string>& order = by_seriousness();
  return static_cast<std::size_t>(std::find(order.begin(), order.end(), id) - order.begin());
}

} // namespace lowspot::checks
