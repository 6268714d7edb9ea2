#include <lowspot/job/leaders.hpp>

#include <algorithm>
#include <cmath>
#include <map>

#include <lowspot/job/pieces.hpp>
#include <lowspot/site/combine.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/yard/intake_layout.hpp>

namespace lowspot::job {
namespace {

constexpr double beside = 0.3048; // m: an adapter reaches as far

// How the water of a downspout gets into the drain.
struct Way {
  double length = -1; // m to the nearest point of what takes it; below 0: nothing of that name
  std::string size;   // of the pipe there
  bool pipe = false;  // its end is pipe, not the open top of a box, a channel or a well
};

Way way_to(const site::Design& design, const std::string& name, const Point& from, bool feet) {
  std::string size; // of the pipe that leads on, or that ends there
  for (const site::Run& run : design.runs) {
    if (run.pipe.diameter <= 0) continue;
    if (run.name == name) return {distance_to(run.path, from), pipe_size(run.pipe, feet), true};
    if (run.from == name || (run.to == name && size.empty())) size = pipe_size(run.pipe, feet);
  }
  for (const site::Fitting& fitting : design.fittings)
    if (fitting.name == name) return {distance(fitting.at, from), size, true};
  for (const site::Inlet& inlet : design.inlets)
    if (inlet.name == name) return {distance(inlet.at, from), size, false};
  for (const site::Channel& channel : design.channels)
    if (channel.name == name) return {distance_to(channel.path, from), size, false};
  for (const site::Outlet& outlet : design.outlets)
    if (outlet.name == name)
      return {std::max(0.0, distance(outlet.at, from) - std::sqrt(outlet.well.plan / M_PI)), size, false};
  return {};
}

// A downspout that these works lead into the drain.
struct Joined {
  std::string downspout, to; // names
  Way way;                   // from the one to the other
  Point at;                  // of the downspout
};

// Those that an earlier stage does not lead to the same place.
std::vector<Joined> newly_joined(const site::Site& site, const site::Design& design) {
  const bool feet = site.units == "ft";
  std::map<std::string, std::string> laid; // in an earlier stage
  for (const site::Design& before : site.designs)
    if (!design.after.empty() && before.name == design.after)
      for (const site::Building& building : site.buildings)
        for (const site::Downspout& spout : building.downspouts)
          if (const std::string to = yard::destination(&before, spout);
              way_to(before, to, spout.at, feet).length >= 0)
            laid[spout.name] = to;
  std::vector<Joined> list;
  for (const site::Building& building : site.buildings)
    for (const site::Downspout& spout : building.downspouts) {
      const std::string to = yard::destination(&design, spout);
      const Way way = way_to(design, to, spout.at, feet);
      const auto before = laid.find(spout.name);
      if (way.length >= 0 && (before == laid.end() || before->second != to))
        list.push_back({spout.name, to, way, spout.at});
    }
  return list;
}

// Calls use(run, along) for the run of that name, where it has pipe: how far along it [m] what comes from a
// place joins it.
template <class Use>
void at_run(const site::Design& design, const std::string& name, const Point& from, Use use) {
  for (const site::Run& run : design.runs) {
    if (run.name != name || run.pipe.diameter <= 0) continue;
    double along = 0;
    distance_to(run.path, from, &along);
    use(run, along);
  }
}

} // namespace

std::vector<Leader> leaders_of(const site::Site& site, const site::Design& design) {
  std::vector<Leader> list;
  for (const Joined& each : newly_joined(site, design))
    if (each.way.length > beside) list.push_back({each.downspout, each.to, each.way.length, each.way.size});
  return list;
}

std::vector<std::string> adapters_of(const site::Site& site, const site::Design& design) {
  std::vector<std::string> list;
  for (const Joined& each : newly_joined(site, design))
    if (each.way.pipe || each.way.length > beside)
      list.push_back("downspout adapter" + (each.way.size.empty() ? "" : ", " + each.way.size));
  return list;
}

std::vector<std::string> tees_of(const site::Site& site, const site::Design& design) {
  std::vector<std::string> list;
  const auto join = [&](const std::string& name, const Point& from) {
    at_run(design, name, from, [&](const site::Run& run, double along) {
      if (along > beside && along < length(run.path) - beside)
        list.push_back("tee, " + pipe_size(run.pipe, site.units == "ft"));
    });
  };
  for (const Joined& each : newly_joined(site, design)) join(each.to, each.at);
  for (const site::Inlet& inlet : design.inlets)
    if (!site::stands_already(design, inlet.name)) join(inlet.to, inlet.at);
  for (const site::Channel& channel : design.channels)
    if (!site::stands_already(design, channel.name)) join(channel.to, channel.path.back());
  return list;
}

std::vector<std::string> heads_taken(const site::Site& site, const site::Design& design) {
  std::vector<std::string> list;
  const auto join = [&](const std::string& name, const Point& from) {
    at_run(design, name, from, [&](const site::Run&, double along) {
      if (along <= beside) list.push_back(name);
    });
  };
  for (const site::Building& building : site.buildings)
    for (const site::Downspout& spout : building.downspouts)
      join(yard::destination(&design, spout), spout.at);
  for (const site::Inlet& inlet : design.inlets) join(inlet.to, inlet.at);
  for (const site::Channel& channel : design.channels) join(channel.to, channel.path.back());
  return list;
}

std::string leader_note(const Leader& leader, const site::Site& site) {
  return "the pipe that leads '" + leader.downspout + "' to '" + leader.to + "', " +
         site::written(leader.length, Dimension::length, site) +
         " straight, is ordered, but the site file does not say how it gets there: its way, fall and trench "
         "are not on the cut sheet. Lay it as a run of its own, with a fitting where it joins";
}

} // namespace lowspot::job
