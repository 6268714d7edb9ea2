#include <lowspot/site/read_outlet.hpp>

#include <cmath>
#include <numbers>

#include <lowspot/base/text.hpp>
#include <lowspot/site/files.hpp>
#include <lowspot/site/places.hpp>
#include <lowspot/site/rule_length.hpp>
#include <lowspot/site/soil_figures.hpp>
#include <lowspot/site/under_buildings.hpp>
#include <lowspot/site/usual_range.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {

void warn_unused(const TableReader& table, const std::vector<std::string>& keys, const std::string& kind) {
  for (const std::string& key : keys)
    if (table.has(key)) table.warn(key, "is not used: it belongs to an outlet of kind \"" + kind + "\"");
}

void read_level(const TableReader& table, Outlet& outlet) {
  const Site& site = table.context().site;
  const toml::node& node = table.required("level", "the elevation of the water that drowns the outlet");
  if (!node.is_string()) {
    outlet.level = *table.maybe_elevation("level");
    return;
  }
  const std::string file = file_named(table, "level");
  // Elevations are bare numbers in the site's units, here as everywhere.
  const TimeSeries series = read_time_series(site.folder / file, "level", Dimension::length, site.unit, true);
  outlet.times = series.time;
  outlet.levels = series.value;
  if (series.units_assumed)
    table.assume("level", "numbers without a unit in " + file + ": " +
                              (series.time_assumed ? "seconds" : "") +
                              (series.time_assumed && series.value_assumed ? ", and " : "") +
                              (series.value_assumed ? "elevations in " + site.units : ""));
  warn_of_short_series(table, "level", series);

  outlet.level = outlet.levels.front();
}

void round_well(Well& well, double diameter) {
  well.plan = std::numbers::pi / 4 * diameter * diameter;
  well.perimeter = std::numbers::pi * diameter;
}

void read_dry_well(const TableReader& table, Outlet& outlet) {
  const Site& site = table.context().site;
  Well& well = outlet.well;
  const auto volume = table.maybe_quantity("volume", Dimension::volume, Range::positive);
  const auto diameter = table.maybe_quantity("diameter", Dimension::length, Range::positive);
  const auto depth = table.maybe_quantity("depth", Dimension::length, Range::positive);
  if (volume && diameter) {
    round_well(well, *diameter);
    well.depth = *volume / well.plan;
    if (depth && std::abs(*depth - well.depth) > 0.02 * well.depth)
      table.fail("volume",
                 "a volume, a diameter and a depth that do not agree: " +
                     written(well.plan * *depth, Dimension::volume, site) + " by diameter and depth",
                 "two of the three", "Leave one of them out.");
  } else if (volume) {
    well.depth = depth ? *depth : 4 * 0.3048;
    if (!depth) table.assume("depth", written(4 * 0.3048, Dimension::length, site));
    round_well(well, std::sqrt(4 * *volume / well.depth / std::numbers::pi));
  } else {
    round_well(well, diameter ? *diameter : 4 * 0.3048);
    if (!diameter) table.assume("diameter", written(4 * 0.3048, Dimension::length, site));
    well.depth = depth ? *depth : 4 * 0.3048;
    if (!depth) table.assume("depth", written(4 * 0.3048, Dimension::length, site));
  }
  warn_outside(table,
               diameter ? "diameter"
               : volume ? "volume"
                        : "diameter",
               well.perimeter / std::numbers::pi, usual::well_diameter);
  warn_outside(table, depth ? "depth" : volume ? "volume" : "depth", well.depth, usual::well_depth);
  if (const auto share = table.maybe_number("void_share", 0.01, 1))
    well.void_share = *share;
  else
    table.assume("void_share", "0.4 (a pit full of stone)"), well.void_share = 0.4;
  if (const auto k = table.maybe_quantity("conductivity", Dimension::speed))
    well.conductivity = *k, warn_of_conductivity(table, "conductivity", {*k, *k, *k});
  else
    table.assume("conductivity", "that of the tight layer, on the bottom and on the walls below the topsoil");
}

void read_pump(const TableReader& table, Outlet& outlet) {
  const Site& site = table.context().site;
  round_well(outlet.well,
             table.quantity_or("diameter", Dimension::length, usual_size(18, site), Range::positive));
  outlet.well.depth = table.quantity_or("depth", Dimension::length, usual_size(36, site), Range::positive);
  warn_outside(table, "diameter", outlet.well.perimeter / std::numbers::pi, usual::basin_diameter);
  warn_outside(table, "depth", outlet.well.depth, usual::basin_depth);
  outlet.pump_rate = table.quantity("rate", Dimension::flow, Range::positive);
  warn_outside(table, "rate", outlet.pump_rate, usual::pump_rate);
  constexpr double garden_hose = 1.26e-4; // m3/s, 2 gal/min
  if (outlet.pump_rate < garden_hose)
    table.warn("rate",
               written(outlet.pump_rate, Dimension::flow, site) +
                   " is less than a garden hose runs, so the basin stays full while it rains; check the "
                   "unit (gal/min, not gal/hr)");
  outlet.pump_on = table.quantity_or("on", Dimension::length, usual_size(12, site), Range::positive);
  outlet.pump_off = table.quantity_or("off", Dimension::length, usual_size(4, site));
  constexpr double least_off = 0.01; // m: a pump that draws air runs on
  if (outlet.pump_off < least_off)
    table.fail("off", written(outlet.pump_off, Dimension::length, site),
               written(least_off, Dimension::length, site) + " of water or more",
               "Give the depth at which the pump draws no air yet, 2 to 4 in: at less it never stops.");
  if (outlet.pump_on <= outlet.pump_off)
    table.fail("on", written(outlet.pump_on, Dimension::length, site),
               "more than `off`, " + written(outlet.pump_off, Dimension::length, site),
               "Depths of water in the basin: the pump starts at `on` and stops at `off`.");
  if (outlet.pump_on >= outlet.well.depth)
    table.fail("on", written(outlet.pump_on, Dimension::length, site),
               "less than the basin's depth, " + written(outlet.well.depth, Dimension::length, site),
               "Lower the switch, or dig the basin deeper.");
  if (const auto outage = table.table("outage")) {
    outlet.fails_from = outage->quantity("from", Dimension::time);
    outlet.fails_to = outage->quantity("to", Dimension::time, Range::positive);
    outage->done();
    if (outlet.fails_to <= outlet.fails_from)
      table.fail("outage", "an outage that ends before it begins", "from earlier than to",
                 "Times are counted from the start of the storm.");
  }
  if (table.has("discharge")) {
    outlet.discharge = table.point("discharge");
    require_inside(table, "discharge", *outlet.discharge);
    refuse_under_building(table, "discharge", *outlet.discharge);
  } else
    table.assume("discharge", "outside the yard");
}

} // namespace

Outlet read_outlet(const TableReader& table) {
  Outlet outlet;
  outlet.line = table.line();
  outlet.name = table.text("name", "a name that runs can refer to");
  outlet.at = table.point("at");
  if (table.has("kind"))
    outlet.kind = table.word("kind", {"daylight", "pop-up", "submerged", "dry well", "pump"});
  else
    table.assume("kind", outlet.kind = "daylight");
  if (const auto invert = table.maybe_elevation("invert")) outlet.invert = *invert;
  if (outlet.kind == "submerged")
    read_level(table, outlet);
  else
    warn_unused(table, {"level"}, "submerged");
  if (outlet.kind == "pop-up") {
    outlet.opening_head = table.quantity_or("opening_head", Dimension::length, "1 in");
    outlet.weep = table.quantity_or("weep", Dimension::length, "1/4 in");
    warn_outside(table, "opening_head", outlet.opening_head, usual::opening_head);
    warn_outside(table, "weep", outlet.weep, usual::weep);
    if (const auto lid = table.maybe_elevation("lid"))
      outlet.lid = *lid;
    else
      table.assume("lid", "at the ground, or at the pipe where that comes out higher");
  } else
    warn_unused(table, {"opening_head", "weep", "lid"}, "pop-up");
  if (outlet.kind == "dry well")
    read_dry_well(table, outlet);
  else if (outlet.kind == "pump")
    read_pump(table, outlet);
  else
    warn_unused(table, {"depth", "diameter"}, "dry well\" or \"pump");
  if (outlet.kind != "dry well") warn_unused(table, {"volume", "void_share", "conductivity"}, "dry well");
  if (outlet.kind != "pump") warn_unused(table, {"rate", "on", "off", "outage", "discharge"}, "pump");
  table.done();
  require_inside(table, "at", outlet.at);
  refuse_under_building(table, "at", outlet.at);
  return outlet;
}

Outlet read_drywell(const TableReader& table) {
  Outlet outlet;
  outlet.line = table.line();
  outlet.name = table.text("name", "a name that downspouts, inlets and runs can refer to");
  outlet.kind = "dry well";
  outlet.at = table.point("at");
  read_dry_well(table, outlet);
  table.done();
  require_inside(table, "at", outlet.at);
  refuse_under_building(table, "at", outlet.at);
  return outlet;
}

} // namespace lowspot::site
