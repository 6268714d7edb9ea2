#include <lowspot/site/leads_to.hpp>

namespace lowspot::site {

std::set<std::string> all_that_lead_to(const std::vector<Way>& ways, const std::string& place) {
  std::set<std::string> names{place};
  for (std::size_t before = 0; before != names.size();) {
    before = names.size();
    for (const Way& way : ways) // a free end has no name, and is no place that others could lead to
      if (!way.name.empty() && names.count(way.to)) names.insert(way.name);
  }
  return names;
}

std::set<std::string> all_that_lead_to(const Design& design, const std::string& place) {
  std::vector<Way> ways;
  for (const Run& run : design.runs) {
    ways.push_back({run.name, run.to});
    ways.push_back({run.from, run.name});
  }
  for (const Inlet& inlet : design.inlets) ways.push_back({inlet.name, inlet.to});
  for (const Channel& channel : design.channels) ways.push_back({channel.name, channel.to});
  return all_that_lead_to(ways, place);
}

std::vector<const Outlet*> outlets_reached(const Design& design, const Run& run) {
  std::vector<const Outlet*> reached;
  for (const Outlet& outlet : design.outlets)
    if (all_that_lead_to(design, outlet.name).count(run.name)) reached.push_back(&outlet);
  return reached;
}

} // namespace lowspot::site
