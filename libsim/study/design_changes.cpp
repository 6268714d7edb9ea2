#include <lowspot/study/design_changes.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <iterator>

#include <lowspot/base/text.hpp>
#include <lowspot/site/combine.hpp>
#include <lowspot/study/clog.hpp>

namespace lowspot::study {
namespace {

constexpr double deeper_by = 0.1524;   // m
constexpr double worth_changing = 1.2; // a stone less than this many times as permeable is the same

// What a change comes to in each of the runs it is made to: once each, in their order.
struct Whats {
  std::vector<std::string> names;
  void add(const std::string& name) {
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
  }
};

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

bool larger_pipe(const catalog::Catalog& catalog, site::Run& run, Whats& what) {
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
  what.add(next->name);
  return true;
}

bool with_slots(const catalog::Catalog& catalog, site::Run& run, Whats& what) {
  const catalog::Pipe* now = row_of(catalog, run.pipe);
  if (!now || !run.has_trench || run.pipe.slot_area > 0 || !(now->slot_area > 0)) return false;
  use(*now, true, run.pipe);
  what.add(run.name);
  return true;
}

bool coarser_stone(const catalog::Catalog& catalog, site::Run& run, Whats& what) {
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
  if (run.cap.of_stone || !(run.cap.depth > 0)) run.cap.conductivity = run.stone.conductivity;
  what.add(next->name);
  return true;
}

bool open_cap(site::Run& run) {
  if (!run.has_trench || !(run.cap.depth > 0) || run.cap.of_stone) return false;
  run.cap = {"open stone", run.stone.conductivity, 0, false, true};
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

// "next pipe size: 4 in corrugated, 6 in corrugated".
std::string with_names(std::string text, const Whats& whats) {
  for (std::size_t k = 0; k < whats.names.size(); ++k) text += (k == 0 ? ": " : ", ") + whats.names[k];
  return text;
}

// The design with `change` made to every run that it applies to and that is still to be laid; nothing when it
// applies to none.
void offer(const site::Design& design, const std::string& id,
           const std::function<bool(site::Run&, Whats&)>& change, const std::string& name,
           std::vector<DesignChange>& list) {
  DesignChange changed{id, "", design};
  Whats whats;
  bool any = false;
  for (site::Run& run : changed.design.runs)
    if (!site::stands_already(design, run.name)) any = change(run, whats) || any;
  if (!any) return;
  changed.name = with_names(name, whats);
  list.push_back(std::move(changed));
}

// Runs that lead into one another, and the outlets where they end.
struct Line {
  std::string name; // of its outlets
  std::vector<std::size_t> runs, outlets;
};

std::vector<Line> lines_of(const site::Design& design) {
  // Of each run the first run of its line; two that share an end are one line.
  std::vector<std::size_t> first(design.runs.size());
  for (std::size_t k = 0; k < first.size(); ++k) first[k] = k;
  const auto meet = [](const site::Run& a, const site::Run& b) {
    for (const std::string* end : {&a.name, &a.from, &a.to})
      if (!end->empty() && (*end == b.name || *end == b.from || *end == b.to)) return true;
    return false;
  };
  for (std::size_t a = 0; a < first.size(); ++a)
    for (std::size_t b = a + 1; b < first.size(); ++b)
      if (meet(design.runs[a], design.runs[b]))
        std::replace(first.begin(), first.end(), std::max(first[a], first[b]), std::min(first[a], first[b]));
  std::vector<Line> lines;
  std::vector<char> led_to(design.outlets.size(), 0);
  for (std::size_t head = 0; head < first.size(); ++head) {
    if (first[head] != head) continue;
    Line line;
    for (std::size_t k = head; k < first.size(); ++k)
      if (first[k] == head) line.runs.push_back(k);
    for (std::size_t k = 0; k < design.outlets.size(); ++k) {
      const auto ends_there = [&](std::size_t run) { return design.runs[run].to == design.outlets[k].name; };
      if (std::none_of(line.runs.begin(), line.runs.end(), ends_there)) continue;
      led_to[k] = 1;
      line.outlets.push_back(k);
      line.name += (line.name.empty() ? "'" : " and '") + design.outlets[k].name + "'";
    }
    if (line.name.empty()) line.name = "'" + design.runs[head].name + "'";
    lines.push_back(std::move(line));
  }
  for (std::size_t k = 0; k < led_to.size(); ++k)
    if (led_to[k] == 0) lines.push_back({"'" + design.outlets[k].name + "'", {}, {k}});
  return lines;
}

// Something larger in all lines together and, where that makes a difference to more than one, in each alone.
void offer_by_line(const site::Design& design, const std::string& id,
                   const std::function<bool(site::Design&, const Line&, Whats&)>& change,
                   const std::string& name, std::vector<DesignChange>& list) {
  DesignChange together{id, "", design};
  Whats all;
  std::vector<DesignChange> alone;
  for (const Line& line : lines_of(design)) {
    DesignChange one{id + "_" + std::to_string(alone.size() + 1), "", design};
    Whats whats;
    if (!change(one.design, line, whats)) continue;
    one.name = with_names(name + " at " + line.name + " alone", whats);
    alone.push_back(std::move(one));
    change(together.design, line, all);
  }
  if (alone.empty()) return;
  together.name = with_names(name, all);
  list.push_back(std::move(together));
  if (alone.size() > 1) std::move(alone.begin(), alone.end(), std::back_inserter(list));
}

bool larger_pump(site::Design& design, const Line& line) {
  bool any = false;
  for (const std::size_t k : line.outlets) {
    if (design.outlets[k].kind != "pump" || site::stands_already(design, design.outlets[k].name)) continue;
    design.outlets[k].pump_rate *= 2;
    any = true;
  }
  return any;
}

// Twice the plan, of the same shape and as deep.
bool larger_well(site::Design& design, const Line& line) {
  bool any = false;
  for (const std::size_t k : line.outlets) {
    if (design.outlets[k].kind != "dry well" || site::stands_already(design, design.outlets[k].name))
      continue;
    design.outlets[k].well.plan *= 2;
    design.outlets[k].well.perimeter *= std::sqrt(2.0);
    any = true;
  }
  return any;
}

} // namespace

std::vector<DesignChange> single_changes(const catalog::Catalog& catalog, const site::Design& design,
                                         bool in_feet) {
  std::vector<DesignChange> list;
  const auto larger = [&](site::Design& changed, const Line& line, Whats& whats) {
    bool any = false;
    for (const std::size_t k : line.runs)
      if (!site::stands_already(changed, changed.runs[k].name))
        any = larger_pipe(catalog, changed.runs[k], whats) || any;
    return any;
  };
  offer_by_line(design, "larger_pipe", larger, "next pipe size", list);
  offer(
      design, "slotted", [&](site::Run& run, Whats& whats) { return with_slots(catalog, run, whats); },
      "slots where the pipe in the stone is solid", list);
  offer(
      design, "coarser_stone",
      [&](site::Run& run, Whats& whats) { return coarser_stone(catalog, run, whats); },
      "more permeable stone", list);
  offer(
      design, "open_cap", [](site::Run& run, Whats&) { return open_cap(run); }, "stone up to the surface",
      list);
  offer(
      design, "clean_fabric", [](site::Run& run, Whats&) { return clean_fabric(run); }, "clean fabric", list);
  offer_by_line(
      design, "larger_pump",
      [](site::Design& changed, const Line& line, Whats&) { return larger_pump(changed, line); },
      "a pump of twice the rate", list);
  offer_by_line(
      design, "larger_dry_well",
      [](site::Design& changed, const Line& line, Whats&) { return larger_well(changed, line); },
      "a dry well of twice the area, as deep", list);
  const std::size_t before = list.size();
  offer(
      design, "deeper", [](site::Run& run, Whats&) { return deeper(run); },
      std::string(design.standing.empty() ? "all of it " : "all that is still to be laid ") +
          (in_feet ? "6 in deeper" : "150 mm deeper"),
      list);
  if (list.size() > before) { // outlets and inlets go with the pipe
    const auto stands = [&](const auto& work) { return site::stands_already(design, work.name); };
    for (site::Outlet& outlet : list.back().design.outlets)
      if (!stands(outlet)) outlet.invert -= deeper_by;
    for (site::Inlet& inlet : list.back().design.inlets)
      if (!stands(inlet)) inlet.depth += deeper_by;
  }
  return list;
}

DesignChange clogged(const site::Design& design, double factor, const site::Site& site) {
  DesignChange change{"clogged_" + rounded(factor), clogged_words(design, factor, site), design};
  clog_all(change.design, factor);
  return change;
}

} // namespace lowspot::study
