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

constexpr int no_unknown = -1;

struct StoneStore { // the stone of one station; its unknown is the water level
  int unknown = 0;
  int station = 0;
  double bottom = 0, top = 0;  // of the stone [m]
  double area = 0;             // pore area in plan: porosity * width * length [m2]
  double area_above = 0;       // of pressure storage above the top [m2]
  double loss = 0;             // to depth while water stands on the bottom [m3/s]
  double rise_conductance = 0; // through the cap, out onto the ground [m2/s]
};
struct PipeStore { // the pipe of one station; its unknown is the grade line
  int unknown = 0;
  int station = 0;
  int section = 0;
  double invert = 0; // m
  double length = 0; // m
};
struct PlaceStore { // a fitting, outlet or meeting of ends: a small pot or a chamber under one shared grade
                    // line
  int unknown = 0;
  double bottom = 0; // lowest invert that meets here, or the bottom of the chamber [m]
  double area = 0;   // m2
  double level = -std::numeric_limits<double>::infinity(); // that an outlet is held at [m]
  double top = std::numeric_limits<double>::infinity();    // of a chamber [m]
  double area_above = 0;                                   // of pressure storage above the top [m2]
  Chamber chamber;                                         // area 0: none
};
struct MouthStore { // an opening between a store and the ground
  int unknown = 0;
  int place = -1; // in Network::places, or -1: it is a pipe that is open
  Mouth mouth;
};
struct LinkTie { // the short pipe from the box of an inlet or channel
  int a = 0, b = 0;
  int place = 0; // of the box
  Openings openings;
};
struct PumpStore {
  int unknown = 0;
  int outlet = 0;
  double bottom = 0; // m
  double area = 0;   // of the basin [m2]
  Pump pump;
};
struct HeldLevel { // an outlet under a level that changes
  int place = 0;
  std::vector<double> times, levels; // s, m
};

struct SlotTie {           // openings between the stone and the pipe of a station
  int stone = 0, pipe = 0; // unknowns
  int station = 0;
  Openings openings;
};
struct PipeReach {              // pipe between two grade lines
  int a = 0, b = 0;             // unknowns, b downstream
  int pipe_a = -1, pipe_b = -1; // index in Network::pipes, or -1 at a place
  int section = 0;
  double invert_a = 0, invert_b = 0; // m
  double distance = 0;               // m
  int station = -1;                  // whose downstream end it is
  double loss = 0;                   // of bends, fittings and entrances, in velocity heads
};
struct StoneTie {   // stone between two stations
  int a = 0, b = 0; // unknowns
  StoneReach reach;
};
struct FreeEnd { // the end of a pipe at an outlet
  int unknown = 0;
  int section = 0;
  int outlet = 0;
  int place = 0; // of the outlet
  double invert = 0;
  double bed_slope = 0;
  double level = 0;     // water flows out only while the grade line is above it [m]
  double weep_area = 0; // of a hole at the invert that drains it [m2]
};
struct StoneEnd { // the end of a trench without a pipe at an outlet
  int unknown = 0;
  int outlet = 0;
  int place = 0;
  StoneReach reach;
  double level = 0; // m
};

struct Network {
  std::vector<Station> stations;
  std::vector<int> first_station; // of each run [runs + 1]
  Connections connections;
  std::vector<Section> sections; // one a run
  std::vector<StoneStore> stones;
  std::vector<PipeStore> pipes;
  std::vector<PlaceStore> places;
  std::vector<int> stone_of, pipe_of; // index in stones and pipes for each station, or -1
  std::vector<SlotTie> slots;
  std::vector<PipeReach> pipe_reaches;
  std::vector<StoneTie> stone_ties;
  std::vector<FreeEnd> free_ends;
  std::vector<StoneEnd> stone_ends;
  std::vector<LinkTie> links;
  std::vector<MouthStore> mouths; // of fittings, then outlets, then taps
  std::vector<PumpStore> pumps;
  std::vector<HeldLevel> held_levels;
  std::vector<int> tap_unknown, tap_mouth; // one a tap
  int unknowns = 0;
};

// Runs cut into equal pieces no longer than the spacing, inverts straight between the points of the path.
std::vector<Station> make_stations(const Layout& layout, const std::function<double(Point)>& ground_at);
// The layout must be free of problems.
Network make_network(const Layout& layout, const std::function<double(Point)>& ground_at);

} // namespace lowspot::drain
