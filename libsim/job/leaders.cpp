#include <lowspot/job/leaders.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include <lowspot/job/pieces.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/yard/intake_layout.hpp>

namespace lowspot::job {
namespace {

constexpr double beside = 0.3048; // m: an adapter reaches as far

// What takes the water: how far off its nearest point is, and the size of its pipe. Below 0: nothing of that
// name.
std::pair<double, std::string> way_to(const site::Design& design, const std::string& name,
                                      const Point& from) {
  std::string size; // of the pipe that leads on, or that ends there
  for (const site::Run& run : design.runs) {
    if (run.pipe.diameter <= 0) continue;
    if (run.name == name) return {distance_to(run.path, from), pipe_size(run.pipe)};
    if (run.from == name || (run.to == name && size.empty())) size = pipe_size(run.pipe);
  }
  for (const site::Fitting& fitting : design.fittings)
    if (fitting.name == name) return {distance(fitting.at, from), size};
  for (const site::Inlet& inlet : design.inlets)
    if (inlet.name == name) return {distance(inlet.at, from), size};
  for (const site::Channel& channel : design.channels)
    if (channel.name == name) return {distance_to(channel.path, from), size};
  for (const site::Outlet& outlet : design.outlets)
    if (outlet.name == name)
      return {std::max(0.0, distance(outlet.at, from) - std::sqrt(outlet.well.plan / M_PI)), size};
  return {-1, ""};
}

} // namespace

std::vector<Leader> leaders_of(const site::Site& site, const site::Design& design) {
  std::map<std::string, std::string> laid; // in an earlier stage
  for (const site::Design& before : site.designs)
    if (!design.after.empty() && before.name == design.after)
      for (const site::Building& building : site.buildings)
        for (const site::Downspout& spout : building.downspouts)
          if (const std::string to = yard::destination(&before, spout);
              way_to(before, to, spout.at).first >= 0)
            laid[spout.name] = to;
  std::vector<Leader> list;
  for (const site::Building& building : site.buildings)
    for (const site::Downspout& spout : building.downspouts) {
      const std::string to = yard::destination(&design, spout);
      const auto [length, size] = way_to(design, to, spout.at);
      const auto before = laid.find(spout.name);
      if (length > beside && (before == laid.end() || before->second != to))
        list.push_back({spout.name, to, length, size});
    }
  return list;
}

std::string leader_note(const Leader& leader, const site::Site& site) {
  return "the pipe that leads '" + leader.downspout + "' to '" + leader.to + "', " +
         site::written(leader.length, Dimension::length, site) +
         " straight, is ordered, but the site file does not say how it gets there: its way, fall and trench "
         "are not on the cut sheet. Lay it as a run of its own, with a fitting where it joins";
}

} // namespace lowspot::job
