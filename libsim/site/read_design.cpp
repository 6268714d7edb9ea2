// [[design]]: a set of works, tried against the yard as it is.
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/site/connect_design.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/places.hpp>
#include <lowspot/site/readers.hpp>
#include <lowspot/site/run_reader.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
Fitting read_fitting(const TableReader& table) {
  Fitting fitting;
  fitting.line = table.line();
  fitting.name = table.text("name", "a name that runs can refer to");
  fitting.at = table.point("at");
  table.done();
  require_inside(table, "at", fitting.at);
  return fitting;
}

Outlet read_outlet(const TableReader& table) {
  Outlet outlet;
  outlet.line = table.line();
  outlet.name = table.text("name", "a name that runs can refer to");
  outlet.at = table.point("at");
  if (table.has("kind"))
    outlet.kind = table.word("kind", {"daylight", "pop-up", "submerged", "dry well", "pump"});
  else
    table.assume("kind", outlet.kind = "daylight");
  if (outlet.kind == "dry well" || outlet.kind == "pump")
    table.fail("kind", "\"" + outlet.kind + "\"", "\"daylight\", \"pop-up\" or \"submerged\"",
               "This version cannot run a " + outlet.kind +
                   " yet: use another outlet, or remove the design.");
  if (const auto invert = table.maybe_elevation("invert")) outlet.invert = *invert;
  if (const auto level = table.maybe_elevation("level")) outlet.level = *level;
  const bool submerged = outlet.kind == "submerged", pop_up = outlet.kind == "pop-up";
  if (submerged)
    table.required("level", "the elevation of the water that drowns the outlet");
  else if (!std::isnan(outlet.level))
    table.warn("level", "is not used: it belongs to an outlet of kind \"submerged\"");
  if (pop_up)
    outlet.opening_head = table.quantity_or("opening_head", Dimension::length, "1 in");
  else if (table.has("opening_head"))
    table.warn("opening_head", "is not used: it belongs to an outlet of kind \"pop-up\"");
  table.done();
  require_inside(table, "at", outlet.at);
  return outlet;
}

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
  change.to = table.text("to", "\"ground\", or the name of a run or fitting");
  auto ends = names_of(design.runs);
  for (const std::string& name : names_of(design.fittings)) ends.push_back(name);
  ends.push_back("ground");
  refuse_unknown(table, "to", change.to, ends, "\"ground\" or a run or fitting of this design");
  table.done();
  return change;
}

// Works that would change the answer, but that this version cannot compute.
void refuse_later_works(const TableReader& table) {
  for (const char* key : {"inlet", "channel", "regrade", "amend", "basin", "drywell"})
    if (table.has(key))
      table.fail(key, "[[design." + std::string(key) + "]]", "runs, fittings, outlets and downspouts",
                 "This version cannot run [[design." + std::string(key) +
                     "]] yet: remove it, since the answer would leave it out.");
}

// Runs, fittings and outlets are named by each other, so they share one set of names.
void refuse_taken_here(const TableReader& table, const std::string& name, const Design& design) {
  refuse_taken(table, name, design.runs, "run of this design");
  refuse_taken(table, name, design.fittings, "fitting of this design");
  refuse_taken(table, name, design.outlets, "outlet of this design");
  if (name == "ground")
    table.fail("name", "the name \"ground\"", "another name", "\"ground\" stands for the ground itself.");
}

Design read_design(const TableReader& table, std::size_t number) {
  Design design;
  design.line = table.line();
  design.name = table.maybe_text("name").value_or("design " + std::to_string(number));
  if (lower(design.name) == "as is")
    table.fail("name", "the name \"as is\"", "another name",
               "The yard as it is always runs, under this name.");
  refuse_later_works(table);
  const auto run_tables = table.tables("run"), fitting_tables = table.tables("fitting");
  const auto outlet_tables = table.tables("outlet"), change_tables = table.tables("downspout");
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
  for (const TableReader& entry : run_tables) {
    Run run = read_run(entry, design.runs.size() + 1);
    refuse_taken_here(entry, run.name, design);
    design.runs.push_back(std::move(run));
  }
  connect_design(design, run_tables);
  check_design(design, run_tables, fitting_tables, outlet_tables);
  for (const TableReader& entry : change_tables) design.downspouts.push_back(read_change(entry, design));
  return design;
}

// A downspout of the yard as it is may name a run or fitting that only a design has.
void check_downspouts(const TableReader& root, const Site& site) {
  std::vector<std::string> ends = {"ground"};
  for (const Design& design : site.designs) {
    for (const std::string& name : names_of(design.runs)) ends.push_back(name);
    for (const std::string& name : names_of(design.fittings)) ends.push_back(name);
  }
  const auto buildings = root.tables("building");
  for (std::size_t b = 0; b < site.buildings.size(); ++b) {
    const auto tables = buildings[b].tables("downspouts");
    for (std::size_t k = 0; k < tables.size(); ++k) {
      const std::string& to = site.buildings[b].downspouts[k].to;
      refuse_unknown(tables[k], "to", to, ends, "\"ground\", or a run or fitting of a design");
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
