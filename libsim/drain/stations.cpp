// Where the stations of each run lie.
#include <algorithm>
#include <cmath>

#include <lowspot/drain/invert_along.hpp>
#include <lowspot/drain/network.hpp>
#include <lowspot/drain/own_plan.hpp>

namespace lowspot::drain {

std::vector<Station> make_stations(const Layout& layout, const std::function<double(Point)>& ground_at) {
  std::vector<Station> stations;
  for (std::size_t r = 0; r < layout.runs.size(); ++r) {
    const Run& run = layout.runs[r];
    const double whole = length(run.path);
    const int count = std::max(1, static_cast<int>(std::ceil(whole / layout.station_spacing - 1e-9)));
    for (int k = 0; k < count; ++k) {
      Station station;
      station.run = static_cast<int>(r);
      station.length = whole / count;
      station.distance = (k + 0.5) * station.length;
      station.at = point_along(run.path, station.distance);
      station.invert = invert_along(run, station.distance);
      station.trench_bottom = run.has_trench ? station.invert - run.bedding : station.invert;
      station.ground = ground_at(station.at);
      station.trench_width = run.has_trench ? run.trench_width : 0;
      // However shallow the trench, a centimetre of stone is left under the cap.
      station.cap_bottom = run.has_trench
                               ? std::max(station.ground - run.cap.depth, station.trench_bottom + 0.01)
                               : station.ground;
      station.own = own_share(layout, station);
      stations.push_back(station);
    }
  }
  return stations;
}

} // namespace lowspot::drain
