// The cut sheet: how deep to dig at every station of a design, counted up from its outlet.
#pragma once
#include <string>
#include <vector>

#include <lowspot/base/geometry.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::job {

// One place along a run with what to dig there.
struct CutStation {
  double station = 0;  // up the pipe from the outlet [m]
  double distance = 0; // from the head of the run [m]
  Point at;            // m
  double ground = 0;   // elevation [m]
  double invert = 0;   // inside bottom of the pipe, elevation [m]
  double bottom = 0;   // of the trench, elevation [m]
  std::string note;    // "outlet", "bend", "fall changes", "head", the name of a fitting; "crosses gas", also
                       // after one of these: "bend, crosses gas"
  double cut() const { return ground - bottom; } // m
};

// One run to dig.
struct CutRun {
  std::string name, pipe, to;                       // the run, its pipe, and where its foot leads
  double width = 0;                                 // of the trench [m]
  double bedding = 0;                               // trench bottom below the invert [m]
  double inside_diameter = 0, outside_diameter = 0; // m
  double least_fall = 0;                            // m/m, of any piece
  double length = 0;                                // m
  double deepest = 0;                               // m
  double spoil = 0;                                 // m3 in the ground
  double stone = 0;                                 // m3 in the trench
  std::vector<CutStation> stations;                 // foot first
};

// All runs of a design to dig.
struct CutSheet {
  std::string design;                // its name
  std::vector<CutRun> runs;          // the one at the outlet first: crews start there and work up
  std::vector<std::string> warnings; // sentences
};

// Stations every `spacing` [m], counted from the outlet, and at every bend, change of fall, fitting, head and
// foot. The stone
// is what fills the trench from its bottom to the cap, less the pipe. Throws InputError when the design
// cannot be built on this ground. `as_is`: the ground of the yard; the sheet is for the ground as the design
// shapes it.
CutSheet make_cut_sheet(const site::Site& site, const site::Design& design, const terrain::Ground& as_is,
                        double spacing);

// Whether a path turns by more than a degree at one of its points, counted from 0; not at its ends.
bool bends(const Polyline& path, std::size_t vertex);
// Width of the trench of a run [m]: as given, or room for a hand on either side of a solid pipe, up to the
// next whole inch or, in a site in metres, the next 50 mm.
double dug_width(const site::Site& site, const site::Run& run);
// How far the trench bottom lies below the invert [m]: the bedding, at least the wall of the pipe.
double below_invert(const site::Run& run);
// Distance of the foot of each run from the outlet, along the pipe [m].
std::vector<double> foot_stations(const site::Design& design);

} // namespace lowspot::job
