#include <lowspot/site/combine.hpp>

#include <algorithm>
#include <cmath>
#include <map>

#include <lowspot/site/connect_design.hpp>
#include <lowspot/site/places.hpp>

namespace lowspot::site {
namespace {

constexpr double same_place = 1e-6;     // m
constexpr double shared_trench = 0.5;   // m of two paths that run within joint_tolerance of each other
constexpr double sample_spacing = 0.05; // m

bool same(double a, double b) {
  return (std::isnan(a) && std::isnan(b)) || a == b;
}
bool same(const Point& a, const Point& b) {
  return distance(a, b) <= same_place;
}
template <class List, class Alike>
bool same_lists(const List& a, const List& b, Alike alike) {
  return a.size() == b.size() && std::equal(a.begin(), a.end(), b.begin(), alike);
}
bool same_lines(const Polyline& a, const Polyline& b) {
  return same_lists(a, b, [](const Point& p, const Point& q) { return same(p, q); });
}
bool same_numbers(const std::vector<double>& a, const std::vector<double>& b) {
  return same_lists(a, b, [](double p, double q) { return same(p, q); });
}
bool same_levels(const std::vector<Point3>& a, const std::vector<Point3>& b) {
  return same_lists(a, b, [](const Point3& p, const Point3& q) {
    return same(Point{p.x, p.y}, Point{q.x, q.y}) && same(p.z, q.z);
  });
}

bool alike(const Grate& a, const Grate& b) {
  return same(a.width, b.width) && same(a.length, b.length) && same(a.open_share, b.open_share) &&
         same(a.debris, b.debris);
}
bool alike(const Well& a, const Well& b) {
  return same(a.plan, b.plan) && same(a.perimeter, b.perimeter) && same(a.depth, b.depth) &&
         same(a.void_share, b.void_share) && same(a.conductivity, b.conductivity);
}
bool alike(const Run& a, const Run& b) {
  const PipeChoice &p = a.pipe, &q = b.pipe;
  const StoneChoice &s = a.stone, &t = b.stone;
  return same_lines(a.path, b.path) && same(p.diameter, q.diameter) &&
         same(p.outside_diameter, q.outside_diameter) && same(p.manning_n, q.manning_n) &&
         same(p.slot_area, q.slot_area) && same(p.discharge_coefficient, q.discharge_coefficient) &&
         a.has_trench == b.has_trench && same(a.trench_width, b.trench_width) &&
         same(a.trench_depth, b.trench_depth) && same(a.bedding, b.bedding) &&
         same_numbers(a.inverts, b.inverts) && same(a.fall, b.fall) && same(s.porosity, t.porosity) &&
         same(s.conductivity, t.conductivity) && same(s.forchheimer_b, t.forchheimer_b) &&
         same(a.fabric.permittivity, b.fabric.permittivity) && same(a.fabric.clogging, b.fabric.clogging) &&
         same(a.cap.conductivity, b.cap.conductivity) && same(a.cap.depth, b.cap.depth) && a.from == b.from &&
         a.to == b.to;
}
bool alike(const Fitting& a, const Fitting& b) {
  return same(a.at, b.at) && same(a.loss, b.loss) && same(a.cleanout, b.cleanout) && same(a.lift, b.lift);
}
bool alike(const Outlet& a, const Outlet& b) {
  const bool discharges_alike = a.discharge.has_value() == b.discharge.has_value() &&
                                (!a.discharge || same(*a.discharge, *b.discharge));
  return same(a.at, b.at) && a.kind == b.kind && same(a.invert, b.invert) && same(a.level, b.level) &&
         same_numbers(a.times, b.times) && same_numbers(a.levels, b.levels) &&
         same(a.opening_head, b.opening_head) && same(a.lid, b.lid) && same(a.weep, b.weep) &&
         alike(a.well, b.well) && same(a.pump_rate, b.pump_rate) && same(a.pump_on, b.pump_on) &&
         same(a.pump_off, b.pump_off) && same(a.fails_from, b.fails_from) && same(a.fails_to, b.fails_to) &&
         discharges_alike;
}
bool alike(const Inlet& a, const Inlet& b) {
  return same(a.at, b.at) && alike(a.grate, b.grate) && same(a.depth, b.depth) && same(a.sump, b.sump) &&
         same(a.pipe, b.pipe) && a.to == b.to;
}
bool alike(const Channel& a, const Channel& b) {
  return same_lines(a.path, b.path) && same(a.width, b.width) && same(a.depth, b.depth) &&
         alike(a.grate, b.grate) && same(a.capacity, b.capacity) && a.to == b.to;
}
bool alike(const Regrade& a, const Regrade& b) {
  return a.kind == b.kind && same_lines(a.outline, b.outline) && same_levels(a.surface, b.surface) &&
         same_levels(a.path, b.path) && same(a.width, b.width) && same(a.side_slope, b.side_slope);
}
bool alike(const Amend& a, const Amend& b) {
  return same_lines(a.outline, b.outline) && same(a.conductivity_factor, b.conductivity_factor) &&
         same(a.porosity_added, b.porosity_added) && same(a.depth_added, b.depth_added);
}
bool alike(const Basin& a, const Basin& b) {
  return same_lines(a.outline, b.outline) && same(a.depth, b.depth) && same(a.overflow, b.overflow) &&
         same(a.side_slope, b.side_slope) && same(a.conductivity_factor, b.conductivity_factor) &&
         same(a.porosity_added, b.porosity_added) && same(a.depth_added, b.depth_added);
}

std::string in_quotes(const std::string& name) {
  return "\"" + name + "\"";
}

// How far two paths run side by side in one trench [m].
double shared_length(const Polyline& a, const Polyline& b) {
  const double total = length(a);
  const int pieces = std::max(1, static_cast<int>(std::ceil(total / sample_spacing)));
  double together = 0;
  for (int k = 0; k < pieces; ++k)
    if (distance_to(b, point_along(a, (k + 0.5) * total / pieces)) <= joint_tolerance)
      together += total / pieces;
  return together;
}

// Any ground that lies in both. Basins that touch share what round-off leaves of a line.
bool overlap(const Polygon& a, const Polygon& b) {
  const Box p = bounds(a), q = bounds(b);
  if (p.low.x >= q.high.x || q.low.x >= p.high.x || p.low.y >= q.high.y || q.low.y >= p.high.y) return false;
  return shared_area(a, b) > 1e-6 * std::min(area(a), area(b));
}

template <class Thing>
const Thing* named(const std::vector<Thing>& things, const std::string& name) {
  for (const Thing& thing : things)
    if (thing.name == name) return &thing;
  return nullptr;
}

// Pipework shares one set of names.
bool pipework_has(const Design& design, const std::string& name) {
  return named(design.runs, name) || named(design.fittings, name) || named(design.outlets, name) ||
         named(design.inlets, name) || named(design.channels, name);
}

class Joiner {
public:
  Joiner(const Design& first, const Design& added, Joining joining)
      : first_(first), added_(added), joining_(joining) {
    result_.design = first;
  }

  Combined joined() {
    take_places(added_.fittings, result_.design.fittings, "fitting");
    take_places(added_.outlets, result_.design.outlets, "outlet");
    take_places(added_.inlets, result_.design.inlets, "inlet");
    take_pipework(added_.channels, result_.design.channels, "channel");
    take_runs();
    lead_to_new_names();
    take_downspouts();
    take_earthworks(added_.regrades, result_.design.regrades, "regrading");
    take_earthworks(added_.amends, result_.design.amends, "amended soil");
    take_basins();
    result_.design.as_dug = result_.design.as_dug || added_.as_dug;
    return std::move(result_);
  }

private:
  template <class Thing>
  bool built_already(const Thing& work, const std::vector<Thing>& standing, const std::string& kind) {
    const Thing* other = named(standing, work.name);
    if (!other || !alike(*other, work)) return false;
    result_.built_once.push_back(kind + " " + in_quotes(work.name) + " is the same in both and built once");
    return true;
  }

  template <class Thing>
  Thing with_free_name(Thing work, const std::string& kind, bool taken) {
    if (!taken) return work;
    std::string name = work.name + " (" + added_.name + ")";
    while (pipework_has(result_.design, name) || pipework_has(added_, name)) name += "'";
    result_.renamed.push_back(kind + " " + in_quotes(work.name) + " of " + in_quotes(added_.name) +
                              " is listed as " + in_quotes(name));
    new_name_[work.name] = name;
    work.name = name;
    return work;
  }

  // Fittings, outlets and inlets: two in one place must be the same thing.
  template <class Thing>
  void take_places(const std::vector<Thing>& works, std::vector<Thing>& standing, const std::string& kind) {
    const std::size_t stood = standing.size();
    for (const Thing& work : works) {
      if (built_already(work, standing, kind)) continue;
      for (std::size_t k = 0; k < stood; ++k)
        if (distance(standing[k].at, work.at) <= joint_tolerance)
          result_.clashes.push_back(kind + " " + in_quotes(work.name) + " of " + in_quotes(added_.name) +
                                    " stands where " + kind + " " + in_quotes(standing[k].name) +
                                    " stands, under another name or with other figures");
      standing.push_back(with_free_name(work, kind, pipework_has(result_.design, work.name)));
    }
  }
  template <class Thing>
  void take_pipework(const std::vector<Thing>& works, std::vector<Thing>& standing, const std::string& kind) {
    for (const Thing& work : works)
      if (!built_already(work, standing, kind))
        standing.push_back(with_free_name(work, kind, pipework_has(result_.design, work.name)));
  }
  template <class Thing>
  void take_earthworks(const std::vector<Thing>& works, std::vector<Thing>& standing,
                       const std::string& kind) {
    for (const Thing& work : works)
      if (!built_already(work, standing, kind))
        standing.push_back(with_free_name(work, kind, named(standing, work.name) != nullptr));
  }

  void take_runs() {
    std::vector<Run>& standing = result_.design.runs;
    const std::size_t stood = standing.size();
    for (const Run& work : added_.runs) {
      if (built_already(work, standing, "run")) continue;
      for (std::size_t k = 0; k < stood; ++k)
        if (shared_length(work.path, standing[k].path) > shared_trench)
          result_.clashes.push_back("run " + in_quotes(work.name) + " of " + in_quotes(added_.name) +
                                    " lies in the trench of run " + in_quotes(standing[k].name));
      standing.push_back(with_free_name(work, "run", pipework_has(result_.design, work.name)));
    }
  }

  void follow(std::string& name) const {
    const auto found = new_name_.find(name);
    if (found != new_name_.end()) name = found->second;
  }
  // What was added speaks of the names of its own design.
  void lead_to_new_names() {
    Design& all = result_.design;
    for (std::size_t k = first_.runs.size(); k < all.runs.size(); ++k) {
      follow(all.runs[k].from);
      follow(all.runs[k].to);
    }
    for (std::size_t k = first_.inlets.size(); k < all.inlets.size(); ++k) follow(all.inlets[k].to);
    for (std::size_t k = first_.channels.size(); k < all.channels.size(); ++k) follow(all.channels[k].to);
  }

  void take_basins() {
    std::vector<Basin>& standing = result_.design.basins;
    const std::size_t stood = standing.size();
    for (const Basin& work : added_.basins) {
      if (built_already(work, standing, "basin")) continue;
      for (std::size_t k = 0; k < stood; ++k)
        if (overlap(work.outline, standing[k].outline))
          result_.clashes.push_back("basin " + in_quotes(work.name) + " of " + in_quotes(added_.name) +
                                    " lies over basin " + in_quotes(standing[k].name));
      standing.push_back(with_free_name(work, "basin", named(standing, work.name) != nullptr));
    }
  }

  void take_downspouts() {
    std::vector<DownspoutChange>& standing = result_.design.downspouts;
    for (DownspoutChange change : added_.downspouts) {
      follow(change.to);
      const auto before = std::find_if(standing.begin(), standing.end(), [&](const DownspoutChange& other) {
        return other.downspout == change.downspout;
      });
      if (before == standing.end()) {
        standing.push_back(change);
        continue;
      }
      if (joining_ == Joining::together && before->to != change.to)
        result_.clashes.push_back("downspout " + in_quotes(change.downspout) + " is sent to " +
                                  in_quotes(before->to) + " and to " + in_quotes(change.to));
      *before = change;
    }
  }

  const Design& first_;
  const Design& added_;
  Joining joining_;
  Combined result_;
  std::map<std::string, std::string> new_name_;
};

} // namespace

Combined combine(const Design& first, const Design& added, Joining joining) {
  return Joiner(first, added, joining).joined();
}

bool stands_already(const Design& design, const std::string& name) {
  return std::find(design.standing.begin(), design.standing.end(), name) != design.standing.end();
}

Design what_stands(const Design& design) {
  Design standing = design;
  const auto keep = [&](auto& works) {
    std::erase_if(works, [&](const auto& work) { return !stands_already(design, work.name); });
  };
  keep(standing.runs), keep(standing.fittings), keep(standing.outlets), keep(standing.inlets);
  keep(standing.channels), keep(standing.regrades), keep(standing.amends), keep(standing.basins);
  standing.downspouts.clear();
  return standing;
}

Combined combine_all(const std::vector<const Design*>& parts, const std::string& name) {
  Combined all;
  all.design = *parts.at(0);
  for (std::size_t k = 1; k < parts.size(); ++k) {
    Combined next = combine(all.design, *parts[k], Joining::together);
    all.design = std::move(next.design);
    for (auto list : {&Combined::renamed, &Combined::built_once, &Combined::clashes})
      (all.*list).insert((all.*list).end(), (next.*list).begin(), (next.*list).end());
  }
  all.design.name = name;
  return all;
}

} // namespace lowspot::site
