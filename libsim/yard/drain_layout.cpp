#include <lowspot/yard/drain_layout.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include <lowspot/base/error.hpp>
#include <lowspot/yard/drain_warnings.hpp>
#include <lowspot/yard/held_back.hpp>
#include <lowspot/yard/intake_layout.hpp>
#include <lowspot/yard/outlet_levels.hpp>

namespace lowspot::yard {
namespace {

// Conductivity of the tight layers that a run crosses [m/s], mean along its path: one figure stands for a
// whole run.
double tight_along(const site::Site& site, const Polyline& path) {
  if (site.soils.size() == 1) return site.soils[0].tight_conductivity.likely;
  constexpr int most = 1000;
  const double total = length(path);
  const int pieces = std::clamp(static_cast<int>(std::ceil(std::min(total / 0.25, 1.0 * most))), 1, most);
  double mean = 0;
  for (int k = 0; k < pieces; ++k) {
    const Point at = path.empty() ? Point{} : point_along(path, total * (k + 0.5) / pieces);
    mean += soil_at(site, at).tight_conductivity.likely / pieces;
  }
  return mean;
}

drain::Run copy_run(const site::Site& site, const site::Run& run) {
  drain::Run result;
  result.name = run.name;
  result.path = run.path;
  result.pipe = {run.pipe.diameter, run.pipe.manning_n, run.pipe.slot_area, run.pipe.discharge_coefficient};
  result.has_trench = run.has_trench;
  result.trench_width = run.has_trench ? run.trench_width : 0;
  result.bedding = run.has_trench ? run.bedding : 0;
  result.stone = {run.stone.porosity, run.stone.conductivity, run.stone.forchheimer_b};
  result.fabric = {run.fabric.permittivity, run.fabric.clogging};
  result.cap = {run.cap.conductivity, run.cap.depth};
  result.bottom_conductivity = run.has_trench ? tight_along(site, run.path) : 0;
  result.from = run.from;
  result.to = run.to;
  return result;
}

std::vector<double> along_fall(const Polyline& path, double head_invert, double fall) {
  std::vector<double> inverts{head_invert};
  for (std::size_t k = 1; k < path.size(); ++k)
    inverts.push_back(inverts.back() - fall * distance(path[k - 1], path[k]));
  return inverts;
}

// Inverts given at head and foot only are carried along the path in between.
std::vector<double> spread(const Polyline& path, const std::vector<double>& given) {
  if (given.size() == path.size()) return given;
  const double total = length(path);
  std::vector<double> inverts;
  double passed = 0;
  for (std::size_t k = 0; k < path.size(); ++k) {
    if (k > 0) passed += distance(path[k - 1], path[k]);
    inverts.push_back(given.front() + (given.back() - given.front()) * (total > 0 ? passed / total : 0));
  }
  return inverts;
}

// Runs in an order in which all that feeds a run comes before it.
std::vector<const site::Run*> feeders_first(const site::Site& site, const site::Design& design) {
  std::vector<const site::Run*> order, waiting;
  for (const site::Run& run : design.runs) waiting.push_back(&run);
  while (!waiting.empty()) {
    const std::size_t before = waiting.size();
    for (std::size_t k = 0; k < waiting.size();) {
      const site::Run& run = *waiting[k];
      const bool fed_later = std::any_of(waiting.begin(), waiting.end(), [&](const site::Run* other) {
        return other != &run && !run.from.empty() && other->to == run.from;
      });
      if (fed_later) {
        ++k;
        continue;
      }
      order.push_back(&run);
      waiting.erase(waiting.begin() + static_cast<long>(k));
    }
    if (waiting.size() == before)
      throw InputError({site.file.string(), design.line, "design '" + design.name + "'"},
                       "runs that feed each other in a loop", "runs that lead to an outlet",
                       "look at the `from` and `to` of its runs and open the loop");
  }
  return order;
}

// Lowest foot invert of the runs that end at each place, by its name.
using ArrivingFlows = std::map<std::string, double>;

// Where the pipe leaves the box at the head of a run; infinite where no box there says so.
double pipe_of_box(const site::Design& design, const site::Run& run,
                   const std::function<double(Point)>& ground_at) {
  for (const site::Inlet& inlet : design.inlets)
    if (inlet.name == run.from && std::isfinite(inlet.depth)) return ground_at(inlet.at) - inlet.depth;
  return std::numeric_limits<double>::infinity();
}

// A run with its inverts: as given, or from its head on by its fall. It takes its head from the runs that end
// where it begins or else from its own depth, and from the box there: the lowest of what they say.
drain::Run lay(const site::Site& site, const site::Design& design, const site::Run& run,
               const ArrivingFlows& arriving, const std::function<double(Point)>& ground_at) {
  drain::Run built = copy_run(site, run);
  if (!run.inverts.empty()) {
    built.inverts = spread(run.path, run.inverts);
    return built;
  }
  double head = pipe_of_box(design, run, ground_at);
  const auto arrives = arriving.find(run.from);
  if (!run.from.empty() && arrives != arriving.end())
    head = std::min(head, arrives->second);
  else if (std::isfinite(run.trench_depth) || !std::isfinite(head)) {
    const double depth = std::isfinite(run.trench_depth) ? run.trench_depth : site::usual_trench_depth;
    head = std::min(head, ground_at(run.path.front()) - depth + run.bedding);
  }
  built.inverts =
      along_fall(run.path, head,
                 std::isfinite(run.fall) ? run.fall : fall_to_outlet(site, design, run, head, ground_at));
  return built;
}

// All runs, in the order of the design.
std::vector<drain::Run> lay_all(const site::Site& site, const site::Design& design,
                                const std::function<double(Point)>& ground_at, ArrivingFlows& arriving,
                                std::vector<std::string>& warnings) {
  std::map<std::string, drain::Run> laid;
  for (const site::Run* run : feeders_first(site, design)) {
    drain::Run built = lay(site, design, *run, arriving, ground_at);
    if (!run->to.empty()) {
      const auto known = arriving.try_emplace(run->to, built.inverts.back()).first;
      known->second = std::min(known->second, built.inverts.back());
    }
    refuse_above_ground(site, design, *run, built, ground_at);
    warn_of_trench(site, design, *run, built, ground_at, warnings);
    laid[run->name] = std::move(built);
  }
  std::vector<drain::Run> runs;
  for (const site::Run& run : design.runs) runs.push_back(laid[run.name]);
  return runs;
}

void build_places(const site::Site& site, const site::Design& design,
                  const std::function<double(Point)>& ground_at, const ArrivingFlows& arriving,
                  ResolvedDrain& result) {
  for (const site::Fitting& fitting : design.fittings)
    result.layout.fittings.push_back(plain_fitting(fitting, ground_at));
  for (const site::Outlet& outlet : design.outlets) {
    const auto arrives = arriving.find(outlet.name);
    const double lowest =
        arrives == arriving.end() ? std::numeric_limits<double>::infinity() : arrives->second;
    result.layout.outlets.push_back(full_outlet(site, outlet, lowest, ground_at));
    if (result.layout.outlets.back().kind == drain::OutletKind::daylight)
      warn_of_buried_outlet(site, outlet, lowest, ground_at, result.warnings);
  }
  add_intakes(site, design, ground_at, result.layout, result.warnings);
}

} // namespace

ResolvedDrain resolve_drain(const site::Site& site, const site::Design& design,
                            const std::function<double(Point)>& ground_at) {
  ResolvedDrain result;
  ArrivingFlows arriving;
  result.layout.runs = lay_all(site, design, ground_at, arriving, result.warnings);
  check_outlet_levels(site, design, result.layout.runs, ground_at, result.warnings);
  build_places(site, design, ground_at, arriving, result);
  for (std::string& warning : warn_of_held_back(site, result.layout, ground_at))
    result.warnings.push_back(std::move(warning));
  result.layout.as_built = design.as_dug;
  const std::vector<std::string> faults = drain::problems(result.layout);
  if (!faults.empty())
    throw InputError({site.file.string(), design.line, "design '" + design.name + "'"}, faults.front(),
                     "a drain that falls all the way to an outlet", "change the run that is named");
  return result;
}

} // namespace lowspot::yard
