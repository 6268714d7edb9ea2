// What a run left behind: everything reports and files are made from. SI throughout.
#pragma once
#include <array>
#include <string>
#include <utility>
#include <vector>

#include <lowspot/base/field.hpp>
#include <lowspot/base/geometry.hpp>
#include <lowspot/base/grid.hpp>
#include <lowspot/results/share_record.hpp>
#include <lowspot/terrain/ground.hpp>
#include <lowspot/terrain/low_spots.hpp>

namespace lowspot::results {

struct LedgerRecord { // m3; names as in summary.json
  double rain = 0, inflow = 0, left_over_edges = 0, left_underground = 0 /* part of left_over_edges */,
         left_by_drains = 0, deep_leakage = 0, evapotranspiration = 0, infiltrated = 0, stored_start = 0,
         stored_end = 0, closure = 0;
};
struct AreaRecord {
  std::string name;
  double max_depth = 0;   // m
  double peak_volume = 0; // m3
  double standing_hours_after_rain =
      0;                    // h, last time any of it stands deeper than the target depth; see below
  double standing_area = 0; // m2 ever deeper than the target depth
  double soggy_hours = 0;   // h, mean over the area: perched table within 4 in of the ground
  bool clear_within_target = true;
  bool judged = true;          // named in [target] areas (or none named)
  bool still_standing = false; // at the end of the simulated time
};
struct GaugeRecord {
  std::string name;
  double max_depth = 0, time_of_max = 0, standing_hours_after_rain = 0;
};
struct FlowRecord { // lines and edges
  std::string name;
  double peak_flow = 0, volume = 0;
};
struct DrainRecord { // one a run
  std::string name;
  double peak_flow = 0, full_flow_capacity = 0, surcharged = 0 /* s */, volume_out = 0;
  std::string limited_by;
  std::vector<std::pair<std::string, double>> limit_hours; // hours each member limited, longest first
};
struct BedRecord {
  std::string name;
  double soggy_hours = 0, days_below_half_available_water = 0, lowest_available_fraction = 1;
};
struct Series {
  std::string name; // column of hydrographs.csv without the design's name, unit suffix included
  std::vector<double> values;
};
struct Frame { // maps at one time, one value a cell
  double time = 0;
  std::vector<float> depth, perched, root_moisture;
};
struct RunProfileRecord { // along one run, for the profile drawing
  std::string run;
  std::vector<double> distance, ground, invert, stone_top, trench_bottom, highest_water;
  double diameter = 0;
  Polyline path;
};
struct DesignRecord {
  std::string name; // "as is" first
  LedgerRecord ledger;
  std::vector<AreaRecord> areas;
  std::vector<GaugeRecord> gauges;
  std::vector<FlowRecord> lines, edges;
  std::vector<DrainRecord> drains;
  std::vector<BedRecord> beds;
  std::vector<RunProfileRecord> profiles;
  bool own_ground = false;                      // works change its shape
  std::vector<terrain::LowSpot> low_spots;      // of its own ground; empty where that is the yard's
  std::vector<terrain::Earthwork> earthworks{}; // what is moved
  std::vector<double> time;                     // s, output times
  std::vector<Series> series;                   // as long as time
  std::vector<Frame> frames;                    // maps, at a subset of the output times
  Field max_depth;                              // m
  Field standing_hours; // h after rain ended that each cell stood deeper than the target depth (total time)
  Field standing_hours_total; // h, during rain included
  Field soggy_hours;          // h
  Field perched_max;          // m
  SourceShares shares;        // empty unless sources were followed
  long steps = 0;
  double wall_seconds = 0;
};
struct Verdict {
  std::string design; // the one recommended, or "as is"
  bool target_met = false;
  std::string limited_by;
  std::string sentence; // one to three plain sentences
};
struct Comparison {
  std::string version;
  std::string method = "dynamic"; // of the water on the ground, or "routed"
  std::string site_name;
  std::string units; // "ft" or "m"
  Grid grid;
  Field elevation;
  std::vector<int> cover; // index in the site's areas, -1 lawn
  Mask active;
  std::vector<std::string> warnings;
  std::vector<std::array<std::string, 3>> defaults; // key, value, tag
  double storm_depth = 0, storm_duration = 0, storm_peak_intensity = 0, end_of_rain = 0;
  std::vector<double> rain_time, rain_intensity; // stepwise
  std::vector<terrain::LowSpot> low_spots;       // of the yard as it is
  std::vector<DesignRecord> designs;
  double standing_depth = 0, clear_within = 0; // the target [m], [s]
  Verdict verdict;
  // Reference system of the coordinates, as WKT or "EPSG:1234"; empty: a grid of the site's own.
  std::string crs;
  std::vector<std::string> cover_names; // of the site's areas, in their order; may be empty
};

} // namespace lowspot::results
