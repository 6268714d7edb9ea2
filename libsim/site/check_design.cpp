#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include <lowspot/base/text.hpp>
#include <lowspot/site/connect_design.hpp>
#include <lowspot/site/crossings.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/outlet_named.hpp>
#include <lowspot/site/places.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
std::optional<Joint> joint_named(const Design& design, const std::string& name) {
  for (const Joint& joint : joints_of(design))
    if (joint.name == name) return joint;
  return std::nullopt;
}

void check_end(const TableReader& table, const std::string& key, const std::string& name, const Point& end,
               const Point& at) {
  const double away = distance(end, at);
  if (away <= joint_tolerance) return;
  const Site& site = table.context().site;
  table.fail(key,
             "\"" + name + "\" at " + written(at, site) + ", " + rounded(away / site.unit) + " " +
                 site.units + " from this end of the run at " + written(end, site),
             "a run that ends where it is joined",
             "Let the path " + std::string(key == "to" ? "end" : "begin") + " at " + written(at, site) +
                 ", or join it to what stands at its end.");
}

void check_joints(const Design& design, const Run& run, const TableReader& table) {
  std::vector<std::string> ends = names_of(joints_of(design));
  const auto outlets = names_of(design.outlets);
  if (!run.from.empty()) {
    refuse_unknown(table, "from", run.from, ends, "the name of a fitting of this design");
    check_end(table, "from", run.from, run.path.front(), joint_named(design, run.from)->at);
    if (run.from == run.to)
      table.fail("to", "a run from \"" + run.from + "\" to itself", "another fitting or outlet",
                 "Name what stands at its foot.");
  }
  ends.insert(ends.end(), outlets.begin(), outlets.end());
  if (is_one_of(run.to, names_of(design.runs)) && !is_one_of(run.to, ends))
    table.fail("to", "\"" + run.to + "\", a run", "the name of a fitting or an outlet",
               "Put a [[design.fitting]] where the two runs meet, and name it in `to` of one and `from` of "
               "the other.");
  refuse_unknown(table, "to", run.to, ends, "the name of a fitting or outlet of this design");
  if (const auto joint = joint_named(design, run.to))
    check_end(table, "to", run.to, run.path.back(), joint->at);
  else if (const Outlet* outlet = outlet_named(design, run.to))
    check_end(table, "to", run.to, run.path.back(), outlet->at);
}

// Only where both inverts are written: where the ground decides, the depth is settled with the ground.
void check_fall_onward(const Design& design, const Run& run, const TableReader& table) {
  if (run.inverts.empty()) return;
  const double foot = run.inverts.back();
  const Site& site = table.context().site;
  const Outlet* outlet = outlet_named(design, run.to);
  if (outlet && !std::isnan(outlet->invert) && outlet->invert > foot + 1e-9)
    table.fail("to",
               "outlet \"" + outlet->name + "\" " + rounded((outlet->invert - foot) / site.unit) + " " +
                   site.units + " above the pipe that feeds it",
               "an outlet at or below " + rounded(foot / site.unit, 6),
               "Raise the inverts, or lower the outlet.");
  for (const Run& next : design.runs)
    if (next.from == run.to && !next.inverts.empty() && next.inverts.front() > foot + 1e-9)
      table.fail("to",
                 "run \"" + next.name + "\" beginning " + rounded((next.inverts.front() - foot) / site.unit) +
                     " " + site.units + " above the foot of this one",
                 "a run that carries on at or below " + rounded(foot / site.unit, 6),
                 "Water does not run uphill at a fitting: lower the head of \"" + next.name + "\".");
}
// A trench of stone takes in what runs over it, under whatever the plan draws there.
void check_paving(const Run& run, const TableReader& table) {
  if (!run.has_trench) return;
  constexpr double least = 0.3048; // m, 1 ft
  const Site& site = table.context().site;
  double under = 0;
  std::string names;
  for (const auto& [name, along] : crossed(site, run.path))
    for (const Area& area : site.areas)
      if (area.name == name && area.impervious) {
        under += along;
        names += (names.empty() ? "\"" : ", \"") + name + "\"";
      }
  if (under < least) return;
  table.warn("path", "passes under " + names + " for " + written(under, Dimension::length, site) +
                         ": it is computed as cut open there, and drinks what runs over it; else give that "
                         "piece a solid pipe and no stone");
}

// Where water goes that leaves the end of a channel: how far off what takes it lies from a place [m].
double distance_to_taker(const Design& design, const std::string& name, const Point& place) {
  if (const auto joint = joint_named(design, name)) return distance(joint->at, place);
  for (const Run& run : design.runs)
    if (run.name == name) return distance_to(run.path, place);
  const Outlet* outlet = outlet_named(design, name);
  return outlet ? std::max(0.0, distance(outlet->at, place) - std::sqrt(outlet->well.plan / std::numbers::pi))
                : 0;
}

// The pipe of an inlet or channel to what takes its water is neither laid out nor ordered: it has to be
// short.
constexpr double short_pipe = 5 * 0.3048; // m

// An inlet stands over or beside what takes its water; from further off a run of its own leads there.
void check_inlet_place(const Design& design, const Inlet& inlet, const TableReader& table) {
  const Site& site = table.context().site;
  const double away = distance_to_taker(design, inlet.to, inlet.at);
  if (away <= short_pipe + on_the_limit) return;
  table.warn("at", "inlet \"" + inlet.name + "\" is " + rounded(away / site.unit) + " " + site.units +
                       " from \"" + inlet.to +
                       "\": the pipe between them is taken to pass all that comes, and is neither in the cut "
                       "sheet nor ordered; lay a run with from = \"" +
                       inlet.name + "\" there, which has a fall and a trench");
}

// A channel ends over what takes its water, or a short pipe away from it.
void check_channel_end(const Design& design, const Channel& channel, const TableReader& table) {
  const Site& site = table.context().site;
  const Point end = channel.path.back();
  const double away = distance_to_taker(design, channel.to, end);
  if (away <= short_pipe + on_the_limit) return;
  const bool backwards = distance_to_taker(design, channel.to, channel.path.front()) <= short_pipe;
  table.fail("path",
             "a channel whose end at " + written(end, site) + " lies " + rounded(away / site.unit) + " " +
                 site.units + " from \"" + channel.to + "\", which takes its water" +
                 (backwards ? ", while its beginning lies there" : ""),
             "a path that ends within " + written(short_pipe, Dimension::length, site) + " of it",
             backwards ? "It is drawn backwards: list the points towards the end where the water leaves."
                       : "Let the path end there, or name in `to` what stands at its end.");
}
} // namespace

void check_design(const Design& design, const Design& standing, const std::vector<TableReader>& run_tables,
                  const std::vector<TableReader>& fitting_tables,
                  const std::vector<TableReader>& outlet_tables) {
  const auto run_of = [&](std::size_t k) -> const Run& { return design.runs[standing.runs.size() + k]; };
  for (std::size_t k = 0; k < run_tables.size(); ++k) check_joints(design, run_of(k), run_tables[k]);
  for (std::size_t k = 0; k < run_tables.size(); ++k) check_fall_onward(design, run_of(k), run_tables[k]);
  for (std::size_t k = 0; k < run_tables.size(); ++k) check_paving(run_of(k), run_tables[k]);
  for (std::size_t k = 0; k < fitting_tables.size(); ++k) {
    const std::string& name = design.fittings[standing.fittings.size() + k].name;
    int onward = 0;
    for (const Run& run : design.runs) onward += run.from == name;
    if (onward > 0) continue;
    fitting_tables[k].fail("name", "fitting \"" + name + "\" with no run leading on",
                           "a run with from = \"" + name + "\"",
                           "Write from = \"" + name + "\" in the run that carries the water on.");
  }
  for (std::size_t k = 0; k < outlet_tables.size(); ++k) {
    const Outlet& outlet = design.outlets[standing.outlets.size() + k];
    bool fed = false;
    for (const Run& run : design.runs) fed = fed || run.to == outlet.name;
    for (const Inlet& inlet : design.inlets) fed = fed || inlet.to == outlet.name;
    for (const Channel& channel : design.channels) fed = fed || channel.to == outlet.name;
    if (outlet.kind == "dry well" || outlet.kind == "pump") continue;
    if (!fed)
      outlet_tables[k].warn("name", "no run leads to \"" + outlet.name + "\", so nothing will leave there");
  }
}

void check_intakes(const Design& design, const Design& standing, const std::vector<TableReader>& inlet_tables,
                   const std::vector<TableReader>& channel_tables) {
  std::vector<std::string> ends = names_of(design.runs);
  for (const Joint& joint : joints_of(design)) ends.push_back(joint.name);
  for (const Outlet& outlet : design.outlets)
    if (outlet.kind == "dry well" || outlet.kind == "pump") ends.push_back(outlet.name);
  const std::string kind = "the name of a run, fitting, inlet or dry well of this design";
  for (std::size_t k = 0; k < inlet_tables.size(); ++k) {
    const Inlet& inlet = design.inlets[standing.inlets.size() + k];
    bool onward = false;
    for (const Run& run : design.runs) onward = onward || run.from == inlet.name;
    if (inlet.to.empty() && !onward)
      inlet_tables[k].fail("to", "inlet \"" + inlet.name + "\" without a way on", kind,
                           "Write to = \"...\", or begin a run there with from = \"" + inlet.name + "\".");
    if (inlet.to.empty()) continue;
    refuse_unknown(inlet_tables[k], "to", inlet.to, ends, kind);
    if (inlet.to == inlet.name)
      inlet_tables[k].fail("to", "an inlet that leads to itself", kind, "Name what takes its water.");
    check_inlet_place(design, inlet, inlet_tables[k]);
  }
  for (std::size_t k = 0; k < channel_tables.size(); ++k) {
    const Channel& channel = design.channels[standing.channels.size() + k];
    refuse_unknown(channel_tables[k], "to", channel.to, ends, kind);
    check_channel_end(design, channel, channel_tables[k]);
  }
}

} // namespace lowspot::site
