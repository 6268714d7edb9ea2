#include <lowspot/study/design_changes.hpp>

#include <algorithm>
#include <cmath>
#include <functional>

#include <lowspot/base/text.hpp>

namespace lowspot::study {
namespace {

constexpr double deeper_by = 0.1524;   // m
constexpr double worth_changing = 1.2; // a stone less than this many times as permeable is the same

// "3 in corrugated" of "3 in corrugated, slotted".
std::string without_openings(const std::string& name) {
  const std::size_t comma = name.rfind(", ");
  const std::string last = comma == std::string::npos ? "" : name.substr(comma + 2);
  return last == "slotted" || last == "solid" ? name.substr(0, comma) : name;
}

// "corrugated" of "3 in corrugated".
std::string family(const std::string& name) {
  const std::size_t unit = name.find(" in ");
  return unit == std::string::npos ? name : name.substr(unit + 4);
}

const catalog::Pipe* row_of(const catalog::Catalog& catalog, const site::PipeChoice& pipe) {
  const std::string name = without_openings(pipe.name);
  const auto row = std::find_if(catalog.pipes.begin(), catalog.pipes.end(),
                                [&](const catalog::Pipe& one) { return one.name == name; });
  return row == catalog.pipes.end() ? nullptr : &*row;
}

void use(const catalog::Pipe& row, bool slotted, site::PipeChoice& pipe) {
  pipe.name = row.name + (slotted ? ", slotted" : ", solid");
  pipe.diameter = row.inside_diameter;
  pipe.outside_diameter = row.outside_diameter;
  pipe.manning_n = row.manning_n.value;
  pipe.slot_area = slotted ? row.slot_area : 0;
}

bool larger_pipe(const catalog::Catalog& catalog, site::Run& run, std::string& what) {
  const catalog::Pipe* now = row_of(catalog, run.pipe);
  if (!now) return false;
  const bool slotted = run.pipe.slot_area > 0;
  const catalog::Pipe* next = nullptr;
  for (const catalog::Pipe& row : catalog.pipes)
    if (family(row.name) == family(now->name) && row.inside_diameter > run.pipe.diameter + 1e-6 &&
        (!slotted || row.slot_area > 0) && (!next || row.inside_diameter < next->inside_diameter))
      next = &row;
  if (!next) return false;
  use(*next, slotted, run.pipe);
  what = next->name;
  return true;
}

bool with_slots(const catalog::Catalog& catalog, site::Run& run, std::string& what) {
  const catalog::Pipe* now = row_of(catalog, run.pipe);
  if (!now || !run.has_trench || run.pipe.slot_area > 0 || !(now->slot_area > 0)) return false;
  use(*now, true, run.pipe);
  what = run.name;
  return true;
}

bool coarser_stone(const catalog::Catalog& catalog, site::Run& run, std::string& what) {
  if (!run.has_trench) return false;
  const catalog::Stone* next = nullptr;
  for (const catalog::Stone& row : catalog.stones)
    if (row.conductivity.value > worth_changing * run.stone.conductivity &&
        (!next || row.conductivity.value < next->conductivity.value))
      next = &row;
  if (!next) return false;
  run.stone = {next->name, next->porosity.value, next->conductivity.value, next->forchheimer_b,
               next->bulk_density > 0 ? next->bulk_density : run.stone.bulk_density};
  // Stone up to the ground takes in what the stone passes.
  if (!(run.cap.depth > 0)) run.cap.conductivity = run.stone.conductivity;
  what = next->name;
  return true;
}

bool open_cap(site::Run& run) {
  if (!run.has_trench || !(run.cap.depth > 0)) return false;
  run.cap = {"open stone", run.stone.conductivity, 0, false};
  return true;
}

bool clean_fabric(site::Run& run) {
  if (!run.has_trench || !(run.fabric.permittivity > 0) || !(run.fabric.clogging > 1)) return false;
  run.fabric.clogging = 1;
  return true;
}

bool deeper(site::Run& run) {
  if (std::isfinite(run.trench_depth)) run.trench_depth += deeper_by;
  for (double& invert : run.inverts) invert -= deeper_by;
  return true;
}

// The design with `change` made to every run that it applies to; nothing when it applies to none.
void offer(const site::Design& design, const std::string& id, const std::function<bool(site::Run&)>& change,
           const std::function<std::string()>& name, std::vector<DesignChange>& list) {
  DesignChange changed{id, "", design};
  bool any = false;
  for (site::Run& run : changed.design.runs) any = change(run) || any;
  if (!any) return;
  changed.name = name();
  list.push_back(std::move(changed));
}

// Pumps of twice the rate, dry wells of twice the plan and as deep.
void offer_larger_outlets(const site::Design& design, std::vector<DesignChange>& list) {
  DesignChange pumps{"larger_pump", "a pump of twice the rate", design};
  DesignChange wells{"larger_dry_well", "a dry well of twice the area, as deep", design};
  bool any_pump = false, any_well = false;
  for (std::size_t k = 0; k < design.outlets.size(); ++k) {
    any_pump |= design.outlets[k].kind == "pump";
    any_well |= design.outlets[k].kind == "dry well";
    if (design.outlets[k].kind == "pump") pumps.design.outlets[k].pump_rate *= 2;
    if (design.outlets[k].kind != "dry well") continue;
    site::Well& well = wells.design.outlets[k].well;
    well.plan *= 2;
    well.perimeter *= std::sqrt(2.0); // of the same shape
  }
  if (any_pump) list.push_back(std::move(pumps));
  if (any_well) list.push_back(std::move(wells));
}

} // namespace

std::vector<DesignChange> single_changes(const catalog::Catalog& catalog, const site::Design& design,
                                         bool in_feet) {
  std::vector<DesignChange> list;
  std::string what;
  const auto named = [&](const std::string& text) {
    return [&what, text] { return what.empty() ? text : text + ": " + what; };
  };
  offer(
      design, "larger_pipe", [&](site::Run& run) { return larger_pipe(catalog, run, what); },
      named("next pipe size"), list);
  what.clear();
  offer(
      design, "slotted", [&](site::Run& run) { return with_slots(catalog, run, what); },
      named("slots where the pipe in the stone is solid"), list);
  what.clear();
  offer(
      design, "coarser_stone", [&](site::Run& run) { return coarser_stone(catalog, run, what); },
      named("more permeable stone"), list);
  what.clear();
  offer(design, "open_cap", open_cap, named("stone up to the surface"), list);
  offer(design, "clean_fabric", clean_fabric, named("clean fabric"), list);
  offer_larger_outlets(design, list);
  if (!design.runs.empty()) {
    offer(design, "deeper", deeper, named(in_feet ? "all of it 6 in deeper" : "all of it 150 mm deeper"),
          list);
    // Outlets and inlets go with the pipe.
    for (site::Outlet& outlet : list.back().design.outlets) outlet.invert -= deeper_by;
    for (site::Inlet& inlet : list.back().design.inlets) inlet.depth += deeper_by;
  }
  return list;
}

DesignChange clogged(const site::Design& design, double factor) {
  DesignChange change{"clogged_" + rounded(factor), "fabric and cap " + rounded(factor) + " times less open",
                      design};
  for (site::Run& run : change.design.runs) {
    if (!run.has_trench) continue;
    run.fabric.clogging *= factor;
    run.cap.conductivity /= factor;
  }
  return change;
}

} // namespace lowspot::study
