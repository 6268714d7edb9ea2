// [[design]]: a set of works, tried against the yard as it is.
#include <algorithm>
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/site/connect_design.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/places.hpp>
#include <lowspot/site/read_intake.hpp>
#include <lowspot/site/read_outlet.hpp>
#include <lowspot/site/read_standing.hpp>
#include <lowspot/site/read_works.hpp>
#include <lowspot/site/readers.hpp>
#include <lowspot/site/run_reader.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
DownspoutChange read_change(const TableReader& table, const Design& design) {
  const Site& site = table.context().site;
  DownspoutChange change;
  change.line = table.line();
  std::vector<std::string> known;
  const Downspout* nearest_spout = nullptr;
  const auto at = table.has("at") ? std::optional<Point>(table.point("at")) : std::nullopt;
  for (const Building& building : site.buildings)
    for (const Downspout& spout : building.downspouts) {
      known.push_back(spout.name);
      if (at && (!nearest_spout || distance(spout.at, *at) < distance(nearest_spout->at, *at)))
        nearest_spout = &spout;
    }
  if (at) {
    if (!nearest_spout || distance(nearest_spout->at, *at) > 0.3048)
      table.fail("at", written(*at, site) + ", where no downspout stands",
                 "the place of a downspout of a [[building]]", "Name it instead: name = \"...\".");
    change.downspout = nearest_spout->name;
  } else
    change.downspout = table.text("name", "the name of a downspout");
  refuse_unknown(table, at ? "at" : "name", change.downspout, known, "the name of a downspout");
  change.to = table.text("to", "\"ground\", or the name of a run, fitting, inlet or dry well");
  auto ends = takers_of_roof_water(design);
  ends.push_back("ground");
  refuse_unknown(table, "to", change.to, ends,
                 "\"ground\", or a run, fitting, inlet or dry well of this design");
  table.done();
  return change;
}

// Runs, fittings and outlets are named by each other, so they share one set of names.
void refuse_taken_here(const TableReader& table, const std::string& name, const Design& design) {
  refuse_taken(table, name, design.runs, "run of this design");
  refuse_taken(table, name, design.fittings, "fitting of this design");
  refuse_taken(table, name, design.outlets, "outlet of this design");
  refuse_taken(table, name, design.inlets, "inlet of this design");
  refuse_taken(table, name, design.channels, "channel of this design");
  if (name == "ground")
    table.fail("name", "the name \"ground\"", "another name", "\"ground\" stands for the ground itself.");
}

// In a later stage a downspout may be sent elsewhere again.
void take_change(const TableReader& table, DownspoutChange change, Design& design) {
  const auto before =
      std::find_if(design.downspouts.begin(), design.downspouts.end(),
                   [&](const DownspoutChange& other) { return other.downspout == change.downspout; });
  if (before == design.downspouts.end()) {
    design.downspouts.push_back(std::move(change));
    return;
  }
  if (design.after.empty())
    table.fail("name",
               "downspout \"" + change.downspout + "\", which this design sends to \"" + before->to +
                   "\" already",
               "one [[design.downspout]] for each downspout", "Leave one of the two out.");
  *before = std::move(change);
}

Design read_design(const TableReader& table, std::size_t number) {
  const Design standing = read_standing(table);
  Design design = standing;
  design.line = table.line();
  design.own_name = own_name_of(table, design, number);
  design.name = design.after.empty() ? design.own_name : design.after + ", then " + design.own_name;
  if (lower(design.own_name) == "as is")
    table.fail("name", "the name \"as is\"", "another name",
               "The yard as it is always runs, under this name.");
  const auto run_tables = table.tables("run"), fitting_tables = table.tables("fitting");
  const auto outlet_tables = table.tables("outlet"), change_tables = table.tables("downspout");
  const auto well_tables = table.tables("drywell"), inlet_tables = table.tables("inlet");
  const auto channel_tables = table.tables("channel"), regrade_tables = table.tables("regrade");
  const auto amend_tables = table.tables("amend"), basin_tables = table.tables("basin");
  table.done();
  for (const TableReader& entry : fitting_tables) {
    Fitting fitting = read_fitting(entry);
    refuse_taken_here(entry, fitting.name, design);
    design.fittings.push_back(std::move(fitting));
  }
  for (const TableReader& entry : outlet_tables) {
    Outlet outlet = read_outlet(entry);
    refuse_taken_here(entry, outlet.name, design);
    design.outlets.push_back(std::move(outlet));
  }
  for (const TableReader& entry : well_tables) {
    Outlet well = read_drywell(entry);
    refuse_taken_here(entry, well.name, design);
    design.outlets.push_back(std::move(well));
  }
  for (const TableReader& entry : inlet_tables) {
    Inlet inlet = read_inlet(entry, design.inlets.size() + 1);
    refuse_taken_here(entry, inlet.name, design);
    design.inlets.push_back(std::move(inlet));
  }
  for (const TableReader& entry : channel_tables) {
    Channel channel = read_channel(entry, design.channels.size() + 1);
    refuse_taken_here(entry, channel.name, design);
    design.channels.push_back(std::move(channel));
  }
  for (const TableReader& entry : regrade_tables) {
    Regrade regrade = read_regrade(entry, design.regrades.size() + 1);
    refuse_taken(entry, regrade.name, design.regrades, "regrading of this design");
    design.regrades.push_back(std::move(regrade));
  }
  for (const TableReader& entry : amend_tables) {
    Amend amend = read_amend(entry, design.amends.size() + 1);
    refuse_taken(entry, amend.name, design.amends, "amended soil of this design");
    design.amends.push_back(std::move(amend));
  }
  for (const TableReader& entry : basin_tables) {
    Basin basin = read_basin(entry, design.basins.size() + 1);
    refuse_taken(entry, basin.name, design.basins, "basin of this design");
    design.basins.push_back(std::move(basin));
  }
  for (const TableReader& entry : run_tables) {
    Run run = read_run(entry, design.runs.size() + 1);
    refuse_taken_here(entry, run.name, design);
    design.runs.push_back(std::move(run));
  }
  connect_design(design, run_tables);
  check_design(design, standing, run_tables, fitting_tables, outlet_tables);
  check_intakes(design, standing, inlet_tables, channel_tables);
  for (const TableReader& entry : change_tables) take_change(entry, read_change(entry, design), design);
  return design;
}

// A downspout of the yard as it is may name a run or fitting that only a design has.
void check_downspouts(const TableReader& root, const Site& site) {
  std::vector<std::string> ends = {"ground"};
  for (const Design& design : site.designs) {
    for (const std::string& name : takers_of_roof_water(design)) ends.push_back(name);
  }
  const auto buildings = root.tables("building");
  for (std::size_t b = 0; b < site.buildings.size(); ++b) {
    const auto tables = buildings[b].tables("downspouts");
    for (std::size_t k = 0; k < tables.size(); ++k) {
      const std::string& to = site.buildings[b].downspouts[k].to;
      refuse_unknown(tables[k], "to", to, ends,
                     "\"ground\", or a run, fitting, inlet or dry well of a design");
      if (to != "ground") tables[k].assume("to", "ground, as is and in designs without \"" + to + "\"");
    }
  }
}
} // namespace

void read_designs(const TableReader& root, Context& context) {
  auto& designs = context.site.designs;
  for (const TableReader& table : root.tables("design")) {
    Design design = read_design(table, designs.size() + 1);
    refuse_taken(table, design.name, designs, "design");
    designs.push_back(std::move(design));
  }
  check_downspouts(root, context.site);
}

} // namespace lowspot::site
