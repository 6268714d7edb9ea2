#include <lowspot/results/side_flows.hpp>

#include <algorithm>

#include <lowspot/base/geometry.hpp>

namespace lowspot::results {
namespace {

// The side of the limit that a place is near to; empty: none.
std::string side_of(const site::Site& site, const Point& at, double near) {
  Polyline limit = site.outline;
  if (limit.empty()) return "";
  limit.push_back(limit.front());
  if (distance_to(limit, at) > near) return "";
  const Box box = bounds(site.outline);
  const double gaps[4] = {at.x - box.low.x, box.high.x - at.x, at.y - box.low.y, box.high.y - at.y};
  static const char* const names[4] = {"west", "east", "south", "north"};
  return names[std::min_element(gaps, gaps + 4) - gaps];
}

// Water that runs onto the ground of the yard is counted where it leaves that ground.
bool sends_beyond(const site::Site& site, const site::Outlet& outlet, double near) {
  if (outlet.kind == "dry well") return false;
  if (outlet.kind == "pump") return !outlet.discharge;
  return outlet.kind == "submerged" || !side_of(site, outlet.at, near).empty();
}

} // namespace

std::vector<SideFlow> side_flows(const site::Site& site, const site::Design* design,
                                 const results::DesignRecord& record, double cell) {
  const double near = 2 * cell; // an outlet so near to the limit leaves the yard
  std::vector<SideFlow> sides;
  for (const results::FlowRecord& edge : record.edges)
    sides.push_back({edge.name, edge.peak_flow, edge.volume});
  if (design == nullptr) return sides;
  SideFlow elsewhere;
  for (const site::Outlet& outlet : design->outlets) {
    if (!sends_beyond(site, outlet, near)) continue;
    // Where a pump's water goes outside the yard is not said: not over the side its basin is near to.
    const std::string name = outlet.kind == "pump" ? "" : side_of(site, outlet.at, near);
    const auto known =
        std::find_if(sides.begin(), sides.end(), [&](const SideFlow& each) { return each.side == name; });
    SideFlow& side = known == sides.end() ? elsewhere : *known;
    for (const results::FlowRecord& flow : record.outlets)
      if (flow.name == outlet.name) side.piped_peak += flow.peak_flow, side.piped_volume += flow.volume;
  }
  if (elsewhere.piped_volume > 0) sides.push_back(elsewhere);
  return sides;
}

} // namespace lowspot::results
