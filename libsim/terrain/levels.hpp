// Levels shot in the yard: read from their table and, for a rod book, reduced to elevations.
#pragma once
#include <filesystem>
#include <limits>
#include <string>
#include <vector>

#include <lowspot/base/csv.hpp>
#include <lowspot/base/geometry.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::terrain {

// What was written for a point: a rod reading, which grows as the ground falls, or an elevation.
struct Written {
  std::string text; // as it stands in the table
  double unit = 0;  // metres in one unit of a plain number
  int sense = 0;    // +1 elevation, -1 rod reading, 0 nothing
};

// A ground elevation at a place, in metres.
struct Shot {
  std::string name;     // the point's, or its note, or "line 12"
  Point3 at;            // m
  std::string note;     // as it stands in the table; may be empty
  int line = 0;         // in the file
  Written written = {}; // where its elevation comes from
};

// One sighting of a rod book after adjustment.
struct Sighting {
  std::string name;       // of the point
  int line = 0;           // of the table
  int setup = 0;          // from 1
  double instrument = 0;  // height of instrument, as booked [m]
  double reading = 0;     // m
  double elevation = 0;   // adjusted [m]
  double adjusted = 0;    // what of it is the spread misclosure [m]
  std::string written;    // the reading as it stands in the book
  bool has_place = false; // the row says where the point lies
  bool decimal = false;   // written as a decimal: could be inches taken for tenths
};

// A known point that was shot again.
struct Closure {
  std::string name;      // of the point
  int line = 0;          // of the table
  int setups = 0;        // since the last known point
  double misclosure = 0; // found minus known [m]
  double allowed = 0;    // 0.02 ft times the square root of the set-ups [m]
  int from_setup = 0;    // the set-ups that it closes: from this one on
  bool spread = false;   // over the set-ups; not where it is too large to be the sum of small errors
};

// One place of the instrument.
struct SetUp {
  std::string on;          // the point of its backsight
  int line = 0;            // of the table
  double backsight = 0;    // m
  double instrument = 0;   // height as booked [m]
  bool from_known = false; // the backsight's elevation was known before it
};

// The levels of a yard.
struct LevelBook {
  bool rod_book = false;                     // readings of a rod; otherwise elevations
  std::string file;                          // as messages name it
  int setups = 0;                            // how many places of the instrument; 0 without a rod book
  std::vector<Shot> shots;                   // points with a place and an elevation
  std::vector<SetUp> set_ups;                // of a rod book, in the order read
  std::vector<Sighting> sightings;           // of a rod book, in the order read
  std::vector<Closure> closures;             // of a rod book, in the order read
  std::vector<std::string> warnings;         // sentences
  std::vector<site::Assumption> assumptions; // what was done to the readings
};

// The units in which a table of levels is written.
struct LevelUnits {
  double coordinates = 0.3048; // metres in one unit of x and y
  double readings = 0.3048;    // metres in one unit of readings, and of the elevations of a reduced table
  std::string name = "ft";     // of the unit of coordinates and of a rod book's elevations, for messages
};

// Reads the table that the site names. Throws InputError naming file, line and column.
LevelBook read_levels(const site::Site& site);
// As read_levels, from a table: either `x,y,elevation` or `point,x,y,backsight,intermediate,foresight`, each
// with `note` and, for benchmarks, `elevation`. At least three rows must have a place.
LevelBook reduce_levels(const CsvTable& table, const LevelUnits& units);

} // namespace lowspot::terrain
