#include <lowspot/yard/tied_in.hpp>

#include <algorithm>

#include <lowspot/yard/intake_layout.hpp>

namespace lowspot::yard {
namespace {

bool has_work(const site::Design& design, const std::string& name) {
  const auto named = [&](const auto& works) {
    return std::any_of(works.begin(), works.end(), [&](const auto& work) { return work.name == name; });
  };
  return named(design.runs) || named(design.fittings) || named(design.inlets) || named(design.channels) ||
         named(design.outlets);
}

} // namespace

std::vector<const site::Downspout*> tied_in(const site::Site& site, const site::Design& design) {
  std::vector<const site::Downspout*> list;
  for (const site::Building& building : site.buildings)
    for (const site::Downspout& spout : building.downspouts)
      if (has_work(design, destination(&design, spout))) list.push_back(&spout);
  return list;
}

} // namespace lowspot::yard
