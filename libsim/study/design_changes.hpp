// One thing of a design changed at a time.
#pragma once
#include <string>
#include <vector>

#include <lowspot/catalog/catalog.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::study {

// A design with one thing changed.
struct DesignChange {
  // "larger_pipe", of one of several lines "larger_pipe_2", "slotted", "coarser_stone", "open_cap",
  // "clean_fabric", "larger_pump", "larger_dry_well", "deeper"; "clogged_10"
  std::string id;
  std::string name;    // "next pipe size: 4 in corrugated"
  site::Design design; // so changed
};

// What could be changed about a drain, each by itself: the next size of pipe of its kind in the catalogue (of
// every line and, where runs lead to several outlets apart, of each line alone; so with pumps and dry wells),
// slots where a solid pipe lies in stone, the next more permeable stone, stone up to the surface, clean
// fabric where it is clogged, a pump of twice the rate, a dry well of twice the plan, everything 6 in deeper.
// What does not apply is left out. in_feet: the units of the yard, for their names.
std::vector<DesignChange> single_changes(const catalog::Catalog& catalog, const site::Design& design,
                                         bool in_feet);

// The design with its fabric and cap `factor` times less open than now, and fines on stone that lies open
// (clog.hpp); the name says which. Only where something can clog.
DesignChange clogged(const site::Design& design, double factor, const site::Site& site);

} // namespace lowspot::study
