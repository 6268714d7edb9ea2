// A drain as built: runs of pipe in trenches, fittings and outlets. Plain figures, SI.
#pragma once
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include <lowspot/base/geometry.hpp>

namespace lowspot::drain {

// The pipe of a run.
struct Pipe {
  double diameter = 0;                 // inside [m]
  double manning_n = 0;                // s/m^(1/3)
  double slot_area = 0;                // m2 of openings per m of pipe; 0: solid
  double discharge_coefficient = 0.61; // of the openings: flow over area times sqrt(2 g head)
};
// The stone around it.
struct Stone {
  double porosity = 0;      // share of voids [m3/m3]
  double conductivity = 0;  // m/s
  double forchheimer_b = 0; // s2/m2: gradient = q / conductivity + b q |q| (Forchheimer 1901)
};
// The cloth around the stone.
struct Fabric {
  double permittivity = 0; // 1/s; 0: none
  double clogging = 1;     // divides the permittivity
};
// What lies over the stone.
struct Cap {
  double conductivity = 0; // m/s
  double depth = 0;        // m; 0: stone up to the ground, conductivity that of the stone
};

// A pipe or a trench, or both, from its head to its foot.
struct Run {
  std::string name;            // as fittings, outlets and messages call it
  Polyline path;               // head to foot [m]
  std::vector<double> inverts; // one a point of the path [m]
  Pipe pipe;                   // diameter 0: stone alone
  bool has_trench = true;  // stone around the pipe that can take water in; false: solid carrier in backfill
  double trench_width = 0; // m
  double bedding = 0;      // trench bottom below the invert [m]
  Stone stone;             // in the trench
  Fabric fabric;           // around the stone
  Cap cap;                 // over the stone
  double bottom_conductivity = 0; // of the ground under the stone [m/s]: loss to depth
  std::string from, to;           // names of fittings or outlets; empty: free end
};
// A vessel of upright walls under a grade line: a dry well, a pump basin, the box of an inlet, the trough of
// a channel.
struct Chamber {
  double area = 0;   // of its water surface: plan times void share [m2]; 0: none
  double bottom = 0; // m
  double top = 0;    // m; above it nothing but pressure is stored
  // Soaking away: conductivity * (plan of the bottom + perimeter * wetted wall), at unit gradient.
  double soak_conductivity = 0; // m/s
  double soak_plan = 0;         // m2
  double soak_perimeter = 0;    // m
  double soak_top = 0;          // m; walls above it do not soak
};
// An opening between the water below and the ground above: a grate, the lid of a cleanout, the top of a well,
// the foot of a gutter.
struct Mouth {
  double level = 0;      // of its rim: the ground there [m]
  double rim = 0;        // length that water falls over, debris taken off [m]
  double area = 0;       // clear area, debris taken off [m2]
  double lift = 0;       // head under a lid that opens it [m]
  bool takes_in = false; // lets water in from the ground; any mouth lets it out
  Polyline along;        // one point, or the path of a channel [m]
};
// The short pipe from an inlet or channel into a run or fitting.
struct Link {
  std::string to;      // a run, fitting or outlet; empty: none
  double invert = 0;   // m
  double height = 0;   // of the opening [m]
  double capacity = 0; // of the opening when it is just full and runs free [m3/s]
};
// A place where runs meet, or where water enters from above.
struct Fitting {
  std::string name;             // as runs call it
  Point at;                     // m
  Chamber chamber{};            // the box of an inlet or the trough of a channel
  std::optional<Mouth> mouth{}; // none: closed to the ground
  Link link{};                  // of an inlet or channel
  // Head lost by the water of each arriving run, in velocity heads of that run; not a number: by the angle.
  double loss = std::numeric_limits<double>::quiet_NaN();
};
// How water gets away at an outlet.
enum class OutletKind { daylight, submerged, pop_up, dry_well, pump };
// A pump in its basin.
struct Pump {
  double rate = 0;                     // m3/s while it runs
  double on = 0, off = 0;              // levels at which it starts and stops [m]
  double fails_from = 0, fails_to = 0; // s: without power between these times
};
// The end of a drain.
struct Outlet {
  std::string name;                       // as runs call it
  OutletKind kind = OutletKind::daylight; // which of the figures below count
  Point at;                               // m
  double invert =
      std::numeric_limits<double>::quiet_NaN(); // m; not a number: the invert of the pipe that arrives
  // Water level outside (submerged), or of the rim of the riser under the lid where that is above the invert
  // (pop-up) [m].
  double level = -std::numeric_limits<double>::infinity();
  double opening_head = 0;               // m above rim or invert before a pop-up opens
  std::vector<double> times{}, levels{}; // of a level outside that changes [s, m], straight in between
  double weep_area = 0;                  // of the hole that drains a pop-up [m2]
  Chamber chamber{};                     // of a dry well or pump
  std::optional<Mouth> mouth{};          // where a dry well or pump basin overflows
  Pump pump{};                           // of a pump basin
};
// A downspout tied in: its water enters a run, fitting or dry well, and comes back at the foot of the gutter
// when that is overfull.
struct Tap {
  std::string name; // as messages call it
  std::string to;   // name of a run, fitting or dry well
  Point at;         // m
  Mouth mouth{};    // at the foot of the gutter
};

// All parts of one drain.
struct Layout {
  std::vector<Run> runs;         // places in this list are what Station::run and others mean
  std::vector<Fitting> fittings; // inlets and channels among them
  std::vector<Outlet> outlets;   // where water leaves
  std::vector<Tap> taps;         // downspouts
  double station_spacing = 0.5;  // m, about
  bool as_built = false;         // a belly (pipe rising towards its foot) is computed, not refused
};

// Why a layout cannot be built, as sentences that name the run or fitting, or empty: loops, runs that lead
// nowhere, unknown names, pipe that falls the wrong way, an outlet above the pipe that feeds it.
std::vector<std::string> problems(const Layout& layout);

} // namespace lowspot::drain
