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

// The outlets whose water left the yard. How near to the limit that takes was decided by the run, on its
// cells and its open edges: the books say how much left, and the outlets furthest inside are left out until
// what remains is no more than that.
std::vector<const site::Outlet*> sent_beyond(const site::Site& site, const site::Design& design,
                                             const results::DesignRecord& record, double near) {
  std::vector<const site::Outlet*> sent;
  double volume = 0;
  for (const site::Outlet& outlet : design.outlets) {
    if (!sends_beyond(site, outlet, near)) continue;
    sent.push_back(&outlet);
    volume += outlet_volume(record, outlet.name);
  }
  Polyline limit = site.outline;
  if (!limit.empty()) limit.push_back(limit.front());
  const auto inside = [&](const site::Outlet* outlet) {
    const bool certain = limit.empty() || outlet->kind == "pump" || outlet->kind == "submerged";
    return certain ? -1 : distance_to(limit, outlet->at);
  };
  std::stable_sort(sent.begin(), sent.end(),
                   [&](const site::Outlet* a, const site::Outlet* b) { return inside(a) < inside(b); });
  constexpr double agrees = 1e-6; // of the volume: sums of many steps
  while (!sent.empty() && volume > record.ledger.left_by_drains + agrees * volume) {
    volume -= outlet_volume(record, sent.back()->name);
    sent.pop_back();
  }
  return sent;
}

} // namespace

double outlet_volume(const DesignRecord& record, const std::string& outlet) {
  double volume = 0;
  for (const FlowRecord& flow : record.outlets)
    if (flow.name == outlet) volume += flow.volume;
  return volume;
}

double volume_by_outlets(const DesignRecord& record) {
  const auto is_well = [&](const std::string& name) {
    return std::any_of(record.vessels.begin(), record.vessels.end(), [&](const VesselRecord& vessel) {
      return vessel.kind == "dry well" && vessel.name == name;
    });
  };
  double volume = 0;
  for (const FlowRecord& flow : record.outlets)
    if (!is_well(flow.name)) volume += flow.volume;
  return volume;
}

std::vector<SideFlow> side_flows(const site::Site& site, const site::Design* design,
                                 const results::DesignRecord& record, double cell) {
  const double near = 2 * cell; // an outlet so near to the limit leaves the yard
  std::vector<SideFlow> sides;
  for (const results::FlowRecord& edge : record.edges)
    sides.push_back({edge.name, edge.peak_flow, edge.volume});
  if (design == nullptr) return sides;
  SideFlow elsewhere;
  for (const site::Outlet* sent : sent_beyond(site, *design, record, near)) {
    const site::Outlet& outlet = *sent;
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
