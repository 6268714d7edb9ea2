// The works of a design as checks look at them: stations along every run, and shapes to keep distance from.
#pragma once
#include <string>
#include <utility>
#include <vector>

#include <lowspot/job/cut_sheet.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::checks {

// A design laid out on its ground.
struct Works {
  const site::Design* design = nullptr;   // not owned
  const terrain::Ground* as_is = nullptr; // as it lies today, not owned: what exists was measured from it
  terrain::Ground ground;                 // as the design leaves it
  job::CutSheet sheet;                    // stations every half foot
  const site::Run& run(const job::CutRun& cut) const; // of the design, by name
};

// ground: of the yard as it is, which must outlive the works, as must the design. Throws InputError when the
// design cannot be built on this ground.
Works lay_out(const site::Site& site, const terrain::Ground& ground, const site::Design& design);

// How far a point lies from a shape [m]: 0 inside an outline. `nearest`: the point of the shape that is
// meant.
double distance_to_outline(const Polygon& outline, const Point& at, Point* nearest = nullptr);
double distance_to_shape(const site::KeepOff& shape, const Point& at);

// A piece of the works that lies in one place: an outlet, a dry well, the end of a hose.
struct Place {
  std::string name;   // of the work
  Point at;           // its middle
  double radius = 0;  // of a well around it [m]
  bool soaks = false; // lets water into the ground
  bool sheds = false; // lets water out onto the ground
};
// A piece of the works that goes along a line or covers ground: a channel, a rain garden, improved soil, a
// plane, a swale, a berm.
struct Spread {
  std::string name;    // of the work
  Polyline line;       // its middle, or its rim with the first corner repeated [m]
  double half = 0;     // m on either side of a middle
  bool filled = false; // all within the rim belongs to it
  bool soaks = false;  // lets water into the ground
};
// A hole that is dug for a dry well or a pump.
struct Pit {
  std::string name;             // of the work
  Point at;                     // its middle
  double radius = 0, depth = 0; // m; below the ground
};
// Of its dry wells and pumps, but for those that stand from an earlier stage.
std::vector<Pit> pits(const site::Design& design);
// Ground that is dug and is no trench of a run.
struct Digging {
  std::string name;        // of the work
  Polyline line;           // its middle, or its rim with the first corner repeated [m]
  double half = 0;         // m on either side of a middle
  bool filled = false;     // all within the rim belongs to it
  std::vector<Point3> bed; // of a swale, whose sides go on from there: levels along the middle [m]
  double side_slope = 0;   // of a swale: rise over run of its sides
};
// Channels, boxes of inlets, the straight pipes that lead from either to what takes their water, basins,
// amended soil, planes and swales, but for those that stand from an earlier stage.
std::vector<Digging> other_digging(const site::Design& design);
// Clear ground between a place and what is dug [m]; 0 over it. The sides of a swale are looked for out to
// `within` [m] from the place.
double clear_of(const Works& works, const Digging& digging, const Point& at, double within);

// Outlets; a pump also with the end of its hose.
std::vector<Place> places(const site::Design& design);
// All works that are neither pipe nor in one place.
std::vector<Spread> spread_works(const site::Design& design);

// Places along a line, every two inches or so, its ends and bends among them.
std::vector<Point> points_along(const Polyline& line);

// ", 12 ft up from the outlet".
std::string at_station(const job::CutStation& station, const site::Site& site);

} // namespace lowspot::checks
