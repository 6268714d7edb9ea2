// The layout as flat lists for the solver: stores with one unknown level each, and what passes between them.
#pragma once
#include <functional>
#include <limits>
#include <vector>

#include <lowspot/drain/connections.hpp>
#include <lowspot/drain/drain.hpp>
#include <lowspot/drain/orifice.hpp>
#include <lowspot/drain/pipe_section.hpp>
#include <lowspot/drain/stone_flow.hpp>

namespace lowspot::drain {

// In place of an unknown: there is none.
constexpr int no_unknown = -1;

struct StoneStore {                 // the stone of one station; its unknown is the water level
  int unknown = 0;                  // index of its level
  int station = 0;                  // index in Network::stations
  double bottom = 0, top = 0;       // of the stone [m]
  double area = 0;                  // pore area in plan: porosity * width * length [m2]
  double area_above = 0;            // of pressure storage above the top [m2]
  double loss = 0;                  // to depth while water stands on the bottom [m3/s]
  double cap_conductance = 0;       // of the whole cap, down or up [m2/s]
  double cap_depth = 0;             // m, 0 where the stone is open
  double bore = 0, bore_bottom = 0; // of the pipe in it: diameter [m], 0: none, and its lowest point [m]
  double bore_pores = 0;            // length of pipe times porosity: what its bore takes of the pores [m]
};
struct PipeStore {   // the pipe of one station; its unknown is the grade line
  int unknown = 0;   // index of its level
  int station = 0;   // index in Network::stations
  int section = 0;   // index in Network::sections
  double invert = 0; // m
  double length = 0; // m
};
// A fitting, outlet or meeting of ends: a small pot or a chamber under one shared grade line.
struct PlaceStore {
  int unknown = 0;   // index of its level
  double bottom = 0; // lowest invert that meets here, or the bottom of the chamber [m]
  double area = 0;   // m2
  double level = -std::numeric_limits<double>::infinity(); // outside an outlet, or of a lid's rim [m]
  double lift = 0;                                         // head over that which opens a lid [m]
  double top = std::numeric_limits<double>::infinity();    // of a chamber [m]
  double area_above = 0;                                   // of pressure storage above the top [m2]
  Chamber chamber;                                         // area 0: none
};
struct MouthStore { // an opening between a store and the ground
  int unknown = 0;  // of the store that it opens into
  int place = -1;   // in Network::places, or -1: it is a pipe that is open
  Mouth mouth;      // with its rim no lower than the bottom of that store
};
// Whether water on the ground goes in there.
inline bool takes_in(const MouthStore& store) {
  return store.mouth.takes_in && store.place >= 0;
}
struct LinkTie {     // the short pipe from the box of an inlet or channel
  int a = 0, b = 0;  // unknowns: of the box, and of what it leads to
  int place = 0;     // of the box
  Openings openings; // of that pipe
};
constexpr double pump_film = 5e-3; // m over the bottom under which a pump draws air
// A pump that empties an outlet's basin.
struct PumpStore {
  int unknown = 0;   // index of the basin's level
  int outlet = 0;    // index in Layout::outlets
  double bottom = 0; // m
  double area = 0;   // of the basin [m2]
  Pump pump;         // as laid out, but that it stops before it draws air
};
struct HeldLevel {                   // an outlet under a level that changes
  int place = 0;                     // index in Network::places
  std::vector<double> times, levels; // s, m
};

struct SlotTie {           // openings between the stone and the pipe of a station
  int stone = 0, pipe = 0; // unknowns
  int station = 0;         // index in Network::stations
  Openings openings;       // of the whole station
};
struct PipeReach {                   // pipe between two grade lines
  int a = 0, b = 0;                  // unknowns, b downstream
  int pipe_a = -1, pipe_b = -1;      // index in Network::pipes, or -1 at a place
  int section = 0;                   // index in Network::sections
  double invert_a = 0, invert_b = 0; // m
  double distance = 0;               // m
  int station = -1;                  // whose downstream end it is
  double loss = 0;                   // of bends, fittings and entrances, in velocity heads
};
struct StoneTie {   // stone between two stations
  int a = 0, b = 0; // unknowns
  StoneReach reach; // the stone between the two
};
struct FreeEnd {        // the end of a pipe at an outlet
  int unknown = 0;      // index of the grade line at the outlet
  int section = 0;      // index in Network::sections
  int outlet = 0;       // index in Layout::outlets
  int place = 0;        // of the outlet
  double invert = 0;    // m
  double bed_slope = 0; // of the last half station [m/m]
  double weep_area = 0; // of a hole at the invert that drains the outlet, at its lowest pipe alone [m2]
};
struct StoneEnd {       // the end of a trench without a pipe at an outlet
  int unknown = 0;      // index of the level in the last stone
  int outlet = 0;       // index in Layout::outlets
  int place = 0;        // of the outlet, index in Network::places
  StoneReach reach;     // the stone from there to the end
  double weep_area = 0; // of a hole at the end that drains an outlet without a pipe [m2]
};

// Where a run gives its water at its foot: one index at most is not -1. None where stone alone meets stone.
struct RunFoot {
  int reach = -1; // in Network::pipe_reaches
  int end = -1;   // in Network::stone_ends
  int tie = -1;   // in Network::stone_ties, into a chamber
};

// Everything that holds water in a drain and everything that passes it on.
struct Network {
  std::vector<Station> stations;           // of all runs, run by run
  std::vector<int> first_station;          // of each run [runs + 1]
  Connections connections;                 // which ends meet; see part_open_ends()
  std::vector<int> outlet_of;              // index in Layout::outlets where each run ends, or -1
  std::vector<Section> sections;           // one a run
  std::vector<StoneStore> stones;          // stations with a trench
  std::vector<PipeStore> pipes;            // stations with a pipe
  std::vector<PlaceStore> places;          // fittings, outlets, meetings of ends
  std::vector<int> stone_of, pipe_of;      // index in stones and pipes for each station, or -1
  std::vector<SlotTie> slots;              // one a station with a pipe that has openings in a trench
  std::vector<PipeReach> pipe_reaches;     // between pipes, and between pipes and places
  std::vector<StoneTie> stone_ties;        // along a trench, where trenches meet, and into chambers
  std::vector<FreeEnd> free_ends;          // ends of pipes at outlets without a chamber
  std::vector<StoneEnd> stone_ends;        // ends of trenches without a pipe, likewise
  std::vector<LinkTie> links;              // of inlets and channels
  std::vector<RunFoot> feet;               // one a run
  std::vector<MouthStore> mouths;          // of fittings, then outlets, then taps
  std::vector<PumpStore> pumps;            // one an outlet of that kind
  std::vector<HeldLevel> held_levels;      // outlets under a level that changes
  std::vector<int> tap_unknown, tap_mouth; // one a tap
  int unknowns = 0;                        // how many levels are solved for
};

// Runs cut into equal pieces no longer than the spacing, inverts straight between the points of the path.
std::vector<Station> make_stations(const Layout& layout, const std::function<double(Point)>& ground_at);
// The layout must be free of problems.
Network make_network(const Layout& layout, const std::function<double(Point)>& ground_at);

} // namespace lowspot::drain
