#include <lowspot/report/check_text.hpp>

#include <algorithm>

#include <lowspot/report/units.hpp>
#include <lowspot/results/side_flows.hpp>

namespace lowspot::report {
namespace {
using results::SideFlow;

const SideFlow* side_named(const std::vector<SideFlow>& sides, const std::string& name) {
  const auto found =
      std::find_if(sides.begin(), sides.end(), [&](const SideFlow& each) { return each.side == name; });
  return found == sides.end() ? nullptr : &*found;
}

} // namespace

std::string check_found(const results::CheckRecord& check, const results::DesignRecord& design,
                        const results::Comparison& all, const site::Site& site) {
  if (check.id != "neighbour_increase" || all.designs.empty()) return check.found;
  const auto works = std::find_if(site.designs.begin(), site.designs.end(),
                                  [&](const site::Design& each) { return each.name == design.name; });
  if (works == site.designs.end()) return check.found;
  const std::vector<SideFlow> then = results::side_flows(site, nullptr, all.designs.front(), all.grid.cell);
  const std::vector<SideFlow> now = results::side_flows(site, &*works, design, all.grid.cell);
  const SideFlow *before = side_named(then, check.about), *after = side_named(now, check.about);
  if (before == nullptr || after == nullptr) return check.found; // as of a hose that ends nobody knows where
  const Units units = units_for(site.units);
  const auto said = [](double from, double to, const Unit& unit) {
    return figure(from, unit, 3) + " " + unit.name + " before, " + figure(to, unit, 3) + " " + unit.name +
           " after";
  };
  return "at once " + said(before->peak(), after->peak(), units.flow) + "; in all " +
         said(before->volume(), after->volume(), units.volume);
}

} // namespace lowspot::report
