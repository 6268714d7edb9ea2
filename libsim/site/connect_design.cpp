#include <lowspot/site/connect_design.hpp>

#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/outlet_named.hpp>
#include <lowspot/site/rule_length.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
bool meets(const Point& a, const Point& b) {
  return distance(a, b) <= joint_tolerance;
}

std::string fitting_at(const Design& design, const Point& place) {
  for (const Joint& joint : joints_of(design))
    if (meets(joint.at, place)) return joint.name;
  return "";
}

std::string outlet_at(const Design& design, const Point& place) {
  for (const Outlet& outlet : design.outlets)
    if (meets(outlet.at, place)) return outlet.name;
  return "";
}

void connect_foot(Design& design, Run& run, const TableReader& table) {
  const Point foot = run.path.back();
  run.to = fitting_at(design, foot);
  if (run.to.empty()) run.to = outlet_at(design, foot);
  if (run.to.empty()) {
    Outlet outlet;
    outlet.name = run.name + " outlet";
    outlet.kind = "daylight";
    outlet.at = foot;
    outlet.line = run.line;
    run.to = outlet.name;
    design.outlets.push_back(outlet);
    table.assume("to", "\"" + run.to + "\", a daylight outlet at its foot");
  } else
    table.assume("to", "\"" + run.to + "\", which stands at its foot");
}

// Without a fall of its own a run is laid to the invert of its outlet, where that is given.
void settle_fall(const Design& design, Run& run, const TableReader& table) {
  if (!run.inverts.empty() || !std::isnan(run.fall)) return;
  if (const Outlet* outlet = outlet_named(design, run.to); outlet && !std::isnan(outlet->invert)) {
    table.assume("fall", "what leads to the invert of \"" + outlet->name + "\", " +
                             rounded(outlet->invert / table.context().site.unit, 6) + " " +
                             table.context().site.units);
    return;
  }
  run.fall = 0.01;
  table.assume("fall", "1 %");
}

// A run that carries on takes its head from the lowest foot there.
void warn_of_own_depth(const Design& design, const Run& run, const TableReader& table) {
  const Run* before = nullptr;
  for (const Run& other : design.runs) {
    if (other.to != run.from) continue;
    // Copied from run to run the depth says nothing new.
    if (std::abs(other.trench_depth - run.trench_depth) < 1e-9) return;
    before = &other;
  }
  if (!before) return;
  table.warn("trench.depth", written(run.trench_depth, Dimension::length, table.context().site) +
                                 " is not used: the run begins where \"" + before->name +
                                 "\" ends, as deep as that; give it `inverts` if it is to lie deeper");
}

// The inlet of a name, where it says how deep its pipe lies; null: none.
const Inlet* box_with_depth(const Design& design, const std::string& name) {
  for (const Inlet& inlet : design.inlets)
    if (inlet.name == name && !std::isnan(inlet.depth)) return &inlet;
  return nullptr;
}

bool something_arrives(const Design& design, const std::string& name) {
  for (const Run& run : design.runs)
    if (run.to == name) return true;
  return false;
}
} // namespace

std::vector<Joint> joints_of(const Design& design) {
  std::vector<Joint> joints;
  for (const Fitting& fitting : design.fittings) joints.push_back({fitting.name, fitting.at});
  for (const Inlet& inlet : design.inlets) joints.push_back({inlet.name, inlet.at});
  return joints;
}

std::vector<std::string> takers_of_roof_water(const Design& design) {
  std::vector<std::string> names = names_of(design.runs);
  for (const Joint& joint : joints_of(design)) names.push_back(joint.name);
  for (const Outlet& outlet : design.outlets)
    if (outlet.kind == "dry well" || outlet.kind == "pump") names.push_back(outlet.name);
  return names;
}

void connect_design(Design& design, const std::vector<TableReader>& run_tables) {
  const std::size_t first = design.runs.size() - run_tables.size();
  for (std::size_t k = 0; k < run_tables.size(); ++k) {
    Run& run = design.runs[first + k];
    if (run.to.empty()) connect_foot(design, run, run_tables[k]);
    if (run.from.empty()) {
      const std::string near = fitting_at(design, run.path.front());
      if (!near.empty() && near != run.to) {
        run.from = near;
        run_tables[k].assume("from", "\"" + near + "\", which stands at its head");
      }
    }
  }
  for (std::size_t k = 0; k < run_tables.size(); ++k) {
    Run& run = design.runs[first + k];
    const bool carries_on = !run.from.empty() && something_arrives(design, run.from);
    if (carries_on && run.inverts.empty() && !std::isnan(run.trench_depth))
      warn_of_own_depth(design, run, run_tables[k]);
    if (!run.inverts.empty() || !std::isnan(run.trench_depth) || carries_on) continue;
    if (const Inlet* box = box_with_depth(design, run.from)) {
      run_tables[k].assume("trench.depth",
                           "what meets the pipe of \"" + box->name + "\", " +
                               written(box->depth, Dimension::length, run_tables[k].context().site) +
                               " under the ground");
      continue;
    }
    run.trench_depth = usual_size_of(usual_trench_depth, run_tables[k].context().site);
    run_tables[k].assume("trench.depth",
                         usual_size(usual_trench_depth / 0.0254, run_tables[k].context().site));
  }
  for (std::size_t k = 0; k < run_tables.size(); ++k)
    settle_fall(design, design.runs[first + k], run_tables[k]);
}

} // namespace lowspot::site
