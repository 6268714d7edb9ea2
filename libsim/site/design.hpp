// The works of a design as the site file describes them, in SI units, catalogue names turned into figures.
#pragma once
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include <lowspot/base/geometry.hpp>

namespace lowspot::site {

// A figure that the file does not give.
constexpr double not_given = std::numeric_limits<double>::quiet_NaN();
// Depth of a trench that gives none [m]: 18 in, what a hand or a small machine digs in a yard.
constexpr double usual_trench_depth = 0.4572;

// The pipe of a run.
struct PipeChoice {
  std::string name;                    // as in the catalogue, ", slotted" or ", solid" included
  double diameter = 0;                 // inside, m
  double outside_diameter = 0;         // m
  double manning_n = 0;                // s/m^(1/3)
  double slot_area = 0;                // m2 of openings per m; 0 is solid pipe
  double discharge_coefficient = 0.61; // of the openings: flow over area times sqrt(2 g head)
};
// The stone of a trench.
struct StoneChoice {
  std::string name;           // as in the catalogue
  double porosity = 0;        // share of voids [m3/m3]
  double conductivity = 0;    // m/s at small gradients
  double forchheimer_b = 0;   // s2/m2: gradient = q / conductivity + b q |q|
  double bulk_density = 1600; // kg/m3 as delivered
};
// The cloth around the stone.
struct FabricChoice {
  std::string name;        // empty: none
  double permittivity = 0; // 1/s; 0: no fabric
  double clogging = 1;     // divides the permittivity
};
// What lies over the stone.
struct CapChoice {
  std::string name;        // as in the catalogue
  double conductivity = 0; // m/s through the cap
  double depth = 0;        // m
  bool of_topsoil = false; // made of the yard's own topsoil, whose likely conductivity stands above
  bool of_stone = false;   // nothing but the stone of the trench, whose conductivity stands above
};
// A pipe in its trench, from its head to its foot.
struct Run {
  std::string name;                // as other works call it
  Polyline path;                   // head to foot, m
  PipeChoice pipe;                 // in the trench or in backfill
  bool has_trench = true;          // stone-filled trench; false: carrier in backfill
  double trench_width = 0;         // m
  double trench_depth = not_given; // m below ground at the head, to the trench bottom
  double bedding = 0;              // m of stone under the pipe
  std::vector<double> inverts;     // m, one a path point or head and foot; empty: from depth and fall
  double fall = not_given;         // m/m
  StoneChoice stone;               // in the trench
  FabricChoice fabric;             // around the stone
  CapChoice cap;                   // over the stone
  std::string from, to;            // fitting or outlet names; empty when free
  int line = 0;                    // of its table in the site file
};
struct Well {                                // dry well or pump basin, upright walls
  double plan = 0, perimeter = 0, depth = 0; // m2, m, m below the ground
  double void_share = 1;                     // of its volume; less than 1 where it is full of stone
  double conductivity = not_given;           // m/s of the soil around; not given: the yard's tight layer
};
// What lies over an opening to the ground.
struct Grate {
  double width = 0, length = 0; // m
  double open_share = 0.5;      // clear of bars
  double debris = 0.5;          // share of what is clear that leaves block
};
// A place where runs meet.
struct Fitting {
  std::string name;            // as runs call it
  Point at;                    // m
  double loss = not_given;     // velocity heads lost; not given: by the angle of the pipes
  double cleanout = not_given; // diameter of a cleanout's opening [m]
  double lift = 0;             // head that lifts its cap [m]
  int line = 0;                // of its table in the site file
};
struct Inlet {              // a grate over a box
  std::string name;         // as runs call it
  Point at;                 // m
  Grate grate;              // over the box
  double depth = not_given; // of the pipe that leaves the box, below the ground [m]; not given: that of `to`
  double sump = 0;          // m below that pipe
  double pipe = 0;          // diameter of the pipe that leaves the box [m]
  std::string to;           // a run, fitting or outlet; empty: a run begins here
  int line = 0;             // of its table in the site file
};
struct Channel {               // a grated gutter
  std::string name;            // as in the site file
  Polyline path;               // towards its end
  double width = 0, depth = 0; // inside [m]
  Grate grate;                 // over each metre
  double capacity = 0;         // m3/s at its end when full
  std::string to;              // a run, fitting or outlet
  int line = 0;                // of its table in the site file
};
// The end of a drain.
struct Outlet {
  std::string name;                    // as runs call it
  std::string kind;                    // "daylight", "submerged", "pop-up", "dry well", "pump"
  Point at;                            // m
  double invert = not_given;           // m
  double level = not_given;            // m, for "submerged"
  std::vector<double> times, levels;   // s, m: a level that changes
  double opening_head = 0;             // m, for "pop-up"
  double lid = not_given;              // m, rim of a pop-up's riser; not given: the ground
  double weep = 0;                     // diameter of a pop-up's weep hole [m]
  Well well;                           // of a dry well or pump
  double pump_rate = 0;                // m3/s
  double pump_on = 0, pump_off = 0;    // depth of water in the basin [m]
  double fails_from = 0, fails_to = 0; // s: without power
  std::optional<Point> discharge;      // where a pump's hose ends; none: outside the yard
  int line = 0;                        // of its table in the site file
};
struct Regrade {               // the ground given another shape
  std::string name;            // as in the site file
  std::string kind;            // "plane", "swale", "berm"
  Polygon outline;             // of a plane
  std::vector<Point3> surface; // of a plane: three or more shots
  std::vector<Point3> path;    // of a swale's bed or a berm's crest
  double width = 0;            // of bed or crest [m]
  double side_slope = 1.0 / 3; // rise over run of the sides
  int line = 0;                // of its table in the site file
};
struct Amend {                    // topsoil loosened or improved
  std::string name;               // as in the site file
  Polygon outline;                // where it is done [m]
  double conductivity_factor = 1; // by which the topsoil's conductivity is multiplied
  double porosity_added = 0;      // m3/m3, to porosity and what drains
  double depth_added = 0;         // m of tight layer made topsoil
  int line = 0;                   // of its table in the site file
};
struct Basin {                 // rain garden: a hollow with better soil
  std::string name;            // as in the site file
  Polygon outline;             // at its rim [m]
  double depth = 0;            // of standing water below the overflow [m]
  double overflow = not_given; // m; not given: the lowest ground on its rim
  double side_slope = 1.0 / 3; // rise over run of the sides
  double conductivity_factor = 1, porosity_added = 0, depth_added = 0; // as in Amend
  int line = 0;                                                        // of its table in the site file
};
struct DownspoutChange { // send an existing downspout elsewhere in this design
  std::string downspout; // its name
  std::string to;        // "ground" or the name of a run, fitting or outlet
  int line = 0;          // of its table in the site file
};
// All works that are proposed together.
struct Design {
  std::string name;                        // as in the site file
  std::vector<Run> runs;                   // drains, in the order of the file, likewise all below
  std::vector<Fitting> fittings;           // where runs meet
  std::vector<Outlet> outlets;             // where water leaves the drains
  std::vector<Inlet> inlets;               // grates over boxes
  std::vector<Channel> channels;           // grated gutters
  std::vector<Regrade> regrades;           // ground given another shape
  std::vector<Amend> amends;               // topsoil improved
  std::vector<Basin> basins;               // rain gardens
  std::vector<DownspoutChange> downspouts; // where roof water is sent
  bool as_dug = false;  // inverts are those found in the trench: backfall is computed, not refused
  std::string own_name; // as written: a later stage is called "FIRST, then OWN NAME"
  std::vector<std::string> made_of;  // names of the designs it combines
  std::string after;                 // name of the design that stands before this one is begun
  std::vector<std::string> standing; // works of `after`, by name: nothing to dig or order for them
  int line = 0;                      // of its table in the site file
};

} // namespace lowspot::site
