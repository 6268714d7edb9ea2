#include <lowspot/checks/pump_discharge.hpp>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>

#include <lowspot/checks/judge.hpp>
#include <lowspot/site/leads_to.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/terrain/low_spot_map.hpp>

namespace lowspot::checks {
namespace {
using results::CheckOutcome;
using results::CheckRecord;

// Places at which water gets into the drain that ends at a pump.
std::vector<Point> intakes(const site::Design& design, const site::Outlet& pump, double spacing) {
  std::vector<Point> places{pump.at};
  const auto along = [&](const Polyline& path) {
    const int steps = std::max(1, static_cast<int>(std::ceil(length(path) / spacing)));
    for (int k = 0; k <= steps; ++k) places.push_back(point_along(path, length(path) * k / steps));
  };
  const std::set<std::string> names = site::all_that_lead_to(design, pump.name);
  for (const site::Run& run : design.runs)
    if (run.pipe.slot_area > 0 && names.count(run.name)) along(run.path);
  for (const site::Inlet& inlet : design.inlets)
    if (names.count(inlet.name)) places.push_back(inlet.at);
  for (const site::Channel& channel : design.channels)
    if (names.count(channel.name)) along(channel.path);
  return places;
}

int spot_at(const terrain::LowSpotMap& map, const Grid& grid, const Point& at) {
  const long cell = cell_at(grid, at.x, at.y);
  return cell < 0 ? 0 : map.spot_of_cell(static_cast<std::size_t>(cell));
}

} // namespace

void check_pump_discharge(const site::Site& site, const Works& works, std::vector<CheckRecord>& list) {
  const site::Design& design = *works.design;
  const bool any = std::any_of(design.outlets.begin(), design.outlets.end(),
                               [](const site::Outlet& outlet) { return outlet.discharge.has_value(); });
  if (!any) return;
  const terrain::LowSpotMap map = terrain::map_low_spots(works.ground);
  for (const site::Outlet& outlet : design.outlets) {
    if (!outlet.discharge) continue;
    CheckRecord record;
    record.id = "pump_discharge";
    record.name = "Pumped water stays away";
    record.about = outlet.name;
    record.limit = "let out where it does not run back";
    record.source = "practice";
    record.mark = "default";
    const int spot = spot_at(map, works.ground.grid, *outlet.discharge);
    bool comes_back = false;
    if (spot > 0)
      for (const Point& place : intakes(design, outlet, works.ground.grid.cell))
        comes_back = comes_back || spot_at(map, works.ground.grid, place) == spot;
    const std::string place = site::written(*outlet.discharge, site);
    record.outcome = comes_back ? CheckOutcome::fail : CheckOutcome::pass;
    if (comes_back)
      record.found = "let out at " + place + ", from where the ground sheds it back to the low spot at " +
                     site::written(map.spots[spot - 1].at, site) +
                     " that it is pumped from: the pump moves the same water round; lead the hose further";
    else
      record.found = "let out at " + place + ", from where the ground leads it " +
                     (spot > 0 ? "to another low spot, at " + site::written(map.spots[spot - 1].at, site)
                               : std::string("out of the yard"));
    list.push_back(std::move(record));
  }
}

} // namespace lowspot::checks
