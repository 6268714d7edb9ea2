// What a diagnosis says of a yard as it is: low spots, what fills them, where a pipe could drain them to. SI
// throughout.
#pragma once
#include <limits>
#include <string>
#include <vector>

#include <lowspot/base/geometry.hpp>
#include <lowspot/results/record.hpp>
#include <lowspot/study/kind_of_wet.hpp>
#include <lowspot/study/leak.hpp>
#include <lowspot/terrain/low_spots.hpp>

namespace lowspot::study {

// No rain fills it.
constexpr double never = std::numeric_limits<double>::infinity();

// Part of a catchment under one cover.
struct CoverShare {
  std::string cover;       // name of the area, or "lawn" where no area lies
  double area = 0;         // m2
  bool impervious = false; // takes no water in
};
// A roof whose water lands in a catchment.
struct RoofShare {
  std::string name;     // of the building and its downspout, or of its eaves
  double roof_area = 0; // m2
};

// Depth of steady rain that fills a basin [m]; `never` where rain at that rate does not.
struct RainToFill {
  double all_runs_off = never; // as if every drop of the catchment ran off
  double as_it_starts = never; // the soil as moist as the site file says
  double wet = never;          // the soil with water perched on the tight layer
};

// A basin within a low spot: one pit, or what two become where they merge.
struct Basin {
  int id = 0;             // from 1 within its low spot, the low spot itself last
  Point at;               // deepest point [m]
  double bottom = 0;      // elevation [m]
  double spill_level = 0; // elevation [m]
  double area = 0;        // when full [m2]
  double volume = 0;      // when full [m3]
  Point spill_at;         // [m]
  int merges_into = 0;    // id of the basin that it becomes part of, 0: the low spot itself
  int spills_to = 0;      // id of the basin in the same low spot that takes its spill, 0: beyond the low spot
  RainToFill rain_to_fill; // [m]
};

// A way for a pipe from a low spot, or from a design's head, to a place where it may end.
enum class Reach {
  by_gravity,      // with the least fall, under its cover, no deeper than allowed
  too_little_fall, // the outlet lies too high for the fall and the cover that are asked for
  too_deep,        // there is fall enough, but only with a deeper cut than allowed
  shut_in,         // buildings stand in every way
};
// A way to one outlet.
struct OutletRoute {
  std::string outlet;                           // "south edge", or the name of a candidate
  std::string kind;                             // "edge", "ditch", "curb", ...
  Reach reach = Reach::shut_in;                 // how it fares
  Polyline path;                                // head to outlet [m]; empty when shut in
  std::vector<double> distance, ground, invert; // profile along the path [m], elevations [m]
  double length = 0;                            // m
  double outlet_level = 0;                      // that the invert must not go below [m]
  double fall_available = 0;                    // highest invert at the head less the outlet's level [m]
  double fall_needed = 0; // least fall over the length, and what dips in the way cost [m]
  double margin = 0;      // available less needed [m]; below 0: what is missing
  double deepest_cut = 0; // ground to invert [m]
  double shallow_end = 0; // length before the outlet with less than the cover [m]
  double excavation = 0;  // trench from the ground to the invert [m3]
  std::vector<std::pair<std::string, double>> crosses; // areas by name and length [m], walls with length 0
};

// What is known of one low spot.
struct LowSpotDiagnosis {
  terrain::LowSpot spot;          // its shape
  std::string place;              // where it lies: the name of the area, or "lawn"
  std::string spill_cover;        // what it spills over: the name of the area, or "lawn"
  std::string spill_side;         // where its sill lies as seen from its middle: "east", "north-west", ...
  bool leaves_yard = false;       // its spill reaches the limit of the yard, through other low spots or not
  std::vector<int> fed_by;        // ids of the low spots that spill straight into it
  std::vector<CoverShare> covers; // largest first; sum to the catchment
  std::vector<RoofShare> roofs;   // largest first
  RainToFill rain_to_fill;        // the whole of it
  std::vector<Basin> basins;      // none where it is a single pit; otherwise in order of filling, itself last
  std::vector<OutletRoute> outlets; // those in reach first, the least excavation first
  bool outlets_searched = false;    // only for the larger ones
};

// Where a design's drain begins, and where it could go from there.
struct HeadDiagnosis {
  std::string design, run;          // names
  Point at;                         // m
  double invert = 0;                // elevation [m]
  std::vector<OutletRoute> outlets; // from there, as for a low spot
};

// All that a diagnosis says.
struct Diagnosis {
  results::Comparison
      yard; // what is known of the yard without a run: grid, ground, storm, defaults, warnings
  double rain_intensity = 0; // steady rate of the rain that fills [m/s]: the storm's depth over its duration
  double pools_volume = 0;   // m3 of all hollows when full, those too shallow to be listed included
  int pools = 0;             // how many hollows those are
  std::vector<LowSpotDiagnosis> low_spots; // largest first
  std::vector<int> catchment;              // one a cell: id of the low spot it sheds to, 0: leaves the yard
  std::vector<HeadDiagnosis> heads;        // of the designs
  // Where the storm was run (diagnose_wet()); yard.designs then holds the record of the yard as it is.
  std::vector<WetPlace> wet_places; // areas and the larger low spots
  std::vector<LeakFinding> seen;    // one a thing seen
};

} // namespace lowspot::study
