// A drain as built: runs of pipe in trenches, fittings and outlets. Plain figures, SI.
#pragma once
#include <limits>
#include <string>
#include <vector>

#include <lowspot/base/geometry.hpp>

namespace lowspot::drain {

struct Pipe {
  double diameter = 0; // inside [m]
  double manning_n = 0;
  double slot_area = 0; // m2 of openings per m of pipe; 0: solid
  double discharge_coefficient = 0.61;
};
struct Stone {
  double porosity = 0;
  double conductivity = 0;  // m/s
  double forchheimer_b = 0; // s2/m2: gradient = q / conductivity + b q |q| (Forchheimer 1901)
};
struct Fabric {
  double permittivity = 0; // 1/s; 0: none
  double clogging = 1;     // divides the permittivity
};
struct Cap {
  double conductivity = 0; // m/s
  double depth = 0;        // m; 0: stone up to the ground, conductivity that of the stone
};

struct Run {
  std::string name;
  Polyline path;               // head to foot [m]
  std::vector<double> inverts; // one a point of the path [m]
  Pipe pipe;
  bool has_trench = true;  // stone around the pipe that can take water in; false: solid carrier in backfill
  double trench_width = 0; // m
  double bedding = 0;      // trench bottom below the invert [m]
  Stone stone;
  Fabric fabric;
  Cap cap;
  double bottom_conductivity = 0; // of the ground under the stone [m/s]: loss to depth
  std::string from, to;           // names of fittings or outlets; empty: free end
};
struct Fitting {
  std::string name;
  Point at;
};
enum class OutletKind { daylight, submerged, pop_up };
struct Outlet {
  std::string name;
  OutletKind kind = OutletKind::daylight;
  Point at;
  double invert =
      std::numeric_limits<double>::quiet_NaN(); // m; not a number: the invert of the pipe that arrives
  double level = -std::numeric_limits<double>::infinity(); // m, water level outside (submerged)
  double opening_head = 0;                                 // m above the invert before a pop-up opens
};

struct Layout {
  std::vector<Run> runs;
  std::vector<Fitting> fittings;
  std::vector<Outlet> outlets;
  double station_spacing = 0.5; // m, about
  bool as_built = false;        // a belly (pipe rising towards its foot) is computed, not refused
};

// Why a layout cannot be built, as sentences that name the run or fitting, or empty: loops, runs that lead
// nowhere, unknown names, pipe that falls the wrong way, an outlet above the pipe that feeds it.
std::vector<std::string> problems(const Layout& layout);

} // namespace lowspot::drain
