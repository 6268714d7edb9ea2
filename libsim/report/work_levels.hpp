// Works that are no run of pipe: pits, pumps, lids of pop-ups, inlets, channels, rain gardens, regraded
// ground, improved soil and downspouts, with the levels a crew sets them to.
#pragma once
#include <limits>
#include <string>
#include <vector>

#include <lowspot/job/cut_sheet.hpp>

namespace lowspot::report {

// One work to dig or to set.
struct WorkLevel {
  std::string name; // as in the site file
  std::string kind; // "dry well", "pump", "pop-up", "inlet", "channel", "rain garden", "plane", "swale",
                    // "berm", "improved soil" or "downspout"
  std::string text; // its size and what is set in it, in the site's units
  // Lid, grate, overflow or highest ground, elevation [m]; not a number: unknown.
  double top = std::numeric_limits<double>::quiet_NaN();
  // Inside bottom or lowest ground, elevation [m]; not a number: unknown.
  double bottom = std::numeric_limits<double>::quiet_NaN();
  // Of regraded ground, whose two levels lie apart along it: its deepest cut below the ground before it [m].
  double cut = std::numeric_limits<double>::quiet_NaN();
  bool regraded = false; // ground given another shape
  // How deep is dug [m]; not a number: nothing is, or it is unknown.
  double deep() const { return regraded ? cut : top - bottom; }
};

// "well (dry well)"; its name alone where it is named for what it is.
std::string named_with_kind(const std::string& name, const std::string& kind);

// The works of a design: pits and pumps, inlets, channels, rain gardens, regraded ground, improved soil,
// downspouts sent elsewhere, in this order; those that stand already are left out. `sheet` is of the same
// design, for the inverts of pipes that arrive. `as_is`: the ground of the yard without the design. Throws
// what reshape() throws.
std::vector<WorkLevel> work_levels(const site::Site& site, const site::Design& design,
                                   const terrain::Ground& as_is, const job::CutSheet& sheet);

} // namespace lowspot::report
