#include <lowspot/yard/drain_layout.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/site/outlet_named.hpp>
#include <lowspot/site/rule_length.hpp>
#include <lowspot/yard/held_back.hpp>
#include <lowspot/yard/intake_layout.hpp>
#include <lowspot/yard/outlet_levels.hpp>

namespace lowspot::yard {
namespace {

// Conductivities of the soils that a run crosses, means along its path: one figure stands for a whole run.
struct SoilAlong {
  double topsoil = 0, tight = 0; // m/s
};
SoilAlong soil_along(const site::Site& site, const Polyline& path) {
  if (site.soils.size() == 1)
    return {site.soils[0].conductivity.likely, site.soils[0].tight_conductivity.likely};
  constexpr int most = 1000;
  const double total = length(path);
  const int pieces = std::clamp(static_cast<int>(std::ceil(std::min(total / 0.25, 1.0 * most))), 1, most);
  SoilAlong mean;
  for (int k = 0; k < pieces; ++k) {
    const site::Soil& soil =
        soil_at(site, path.empty() ? Point{} : point_along(path, total * (k + 0.5) / pieces));
    mean.topsoil += soil.conductivity.likely / pieces;
    mean.tight += soil.tight_conductivity.likely / pieces;
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
  const SoilAlong soil = soil_along(site, run.path);
  // A cap without a conductivity of its own is made of the topsoil that lies there.
  result.cap = {run.cap.conductivity > 0 || run.cap.depth <= 0 ? run.cap.conductivity : soil.topsoil,
                run.cap.depth};
  result.bottom_conductivity = run.has_trench ? soil.tight : 0;
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

void check_cover(const site::Site& site, const site::Design& design, const site::Run& run,
                 const drain::Run& resolved, const std::function<double(Point)>& ground_at,
                 std::vector<std::string>& warnings) {
  const double total = length(resolved.path);
  double least = 1e9, deepest = 0, where = 0;
  double passed = 0;
  for (std::size_t k = 0; k + 1 < resolved.path.size(); ++k) {
    const double piece = distance(resolved.path[k], resolved.path[k + 1]);
    for (int part = 0; part <= 20; ++part) {
      const double t = part / 20.0;
      // Toward its daylight end a pipe comes out of the ground by intent: the last metre and a half are not
      // judged.
      if (outlet_named(design, run.to) && passed + t * piece > total - 1.5) continue;
      const Point at = point_along(resolved.path, passed + t * piece);
      const double invert = resolved.inverts[k] + t * (resolved.inverts[k + 1] - resolved.inverts[k]);
      const double ground = ground_at(at);
      if (ground - invert - run.pipe.diameter < least) {
        least = ground - invert - run.pipe.diameter;
        where = passed + t * piece;
      }
      deepest = std::max(deepest, ground - invert + resolved.bedding);
    }
    passed += piece;
  }
  const bool feet = site.units == "ft";
  const auto short_length = [&](double metres) {
    return feet ? rounded(metres / 0.0254, 2) + " in" : rounded(metres * 1000, 2) + " mm";
  };
  const std::string station = feet ? rounded(where / 0.3048, 3) + " ft" : rounded(where, 3) + " m";
  // A pipe whose very bottom is in the air is a slip of a level, not a shallow trench.
  if (least + run.pipe.diameter < -0.01 && !design.as_dug)
    throw InputError({site.file.string(), run.line, "design.run '" + run.name + "'"},
                     "a pipe above the ground, by " + short_length(-least - run.pipe.diameter) +
                         " at its bottom, " + station + " from its head",
                     "a pipe in the ground",
                     "check its `inverts` against the levels there, dig deeper, or turn the path");
  if (least < 0)
    warnings.push_back("run '" + run.name + "': the pipe comes out of the ground " + station +
                       " from its head (by " + short_length(-least) +
                       "); water there runs on the ground, not in a trench");
  else if (least < 0.05)
    warnings.push_back("run '" + run.name + "': only " + short_length(least) + " of cover " + station +
                       " from its head; a spade or a mower wheel can break the pipe");
  const auto rule = [&](double limit) { return site::rule_length(limit, site.units == "ft"); };
  if (deepest >= 1.524)
    warnings.push_back("run '" + run.name + "': the trench is " + short_length(deepest) +
                       " deep at its deepest; walls of " + rule(5) +
                       " and more must be protected against cave-in");
  else if (deepest >= 1.219)
    warnings.push_back("run '" + run.name + "': the trench is " + short_length(deepest) +
                       " deep at its deepest; from " + rule(4) + " a ladder or ramp must be in reach");
}

} // namespace

ResolvedDrain resolve_drain(const site::Site& site, const site::Design& design,
                            const std::function<double(Point)>& ground_at) {
  ResolvedDrain result;
  // Runs that start at a fitting take their head from the runs that end there, so those come first.
  std::map<std::string, double> arriving; // lowest foot invert at each fitting
  std::vector<const site::Run*> waiting;
  for (const site::Run& run : design.runs) waiting.push_back(&run);
  std::map<std::string, drain::Run> resolved;
  while (!waiting.empty()) {
    bool progress = false;
    for (std::size_t k = 0; k < waiting.size();) {
      const site::Run& run = *waiting[k];
      const bool fed_later = std::any_of(waiting.begin(), waiting.end(), [&](const site::Run* other) {
        return other != &run && !run.from.empty() && other->to == run.from;
      });
      if (fed_later) {
        ++k;
        continue;
      }
      drain::Run built = copy_run(site, run);
      if (!run.inverts.empty()) {
        built.inverts = spread(run.path, run.inverts);
      } else {
        const double depth = std::isfinite(run.trench_depth) ? run.trench_depth : 0.4572;
        double head = ground_at(run.path.front()) - depth + run.bedding;
        const auto arrives = arriving.find(run.from);
        if (!run.from.empty() && arrives != arriving.end()) head = arrives->second;
        for (const site::Inlet& inlet : design.inlets)
          if (inlet.name == run.from && std::isfinite(inlet.depth))
            head = std::min(head, ground_at(inlet.at) - inlet.depth);
        built.inverts = along_fall(
            run.path, head,
            std::isfinite(run.fall) ? run.fall : fall_to_outlet(site, design, run, head, ground_at));
      }
      if (!run.to.empty()) {
        const auto known = arriving.find(run.to);
        const double foot = built.inverts.back();
        arriving[run.to] = known == arriving.end() ? foot : std::min(known->second, foot);
      }
      check_cover(site, design, run, built, ground_at, result.warnings);
      resolved[run.name] = std::move(built);
      waiting.erase(waiting.begin() + static_cast<long>(k));
      progress = true;
    }
    if (!progress)
      throw InputError({site.file.string(), design.line, "design '" + design.name + "'"},
                       "runs that feed each other in a loop", "runs that lead to an outlet",
                       "look at the `from` and `to` of its runs and open the loop");
  }
  for (const site::Run& run : design.runs) result.layout.runs.push_back(resolved[run.name]);
  check_outlet_levels(site, design, result.layout.runs, ground_at, result.warnings);
  for (const site::Fitting& fitting : design.fittings)
    result.layout.fittings.push_back(plain_fitting(fitting, ground_at));
  for (const site::Outlet& outlet : design.outlets) {
    const auto arrives = arriving.find(outlet.name);
    const drain::Outlet built = full_outlet(
        site, outlet, arrives == arriving.end() ? std::numeric_limits<double>::infinity() : arrives->second,
        ground_at);
    if (built.kind == drain::OutletKind::daylight && arrives != arriving.end()) {
      const double below = ground_at(outlet.at) - arrives->second;
      if (below > 0.05)
        result.warnings.push_back(
            "outlet '" + outlet.name + "' lies " +
            (site.units == "ft" ? rounded(below / 0.0254, 2) + " in" : rounded(below * 1000, 2) + " mm") +
            " below the ground beside it: it runs free only if the ground falls away beyond; "
            "raise the run or check the level there");
    }
    result.layout.outlets.push_back(built);
  }
  add_intakes(site, design, ground_at, result.layout, result.warnings);
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
