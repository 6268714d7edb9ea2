// What a run left behind: everything reports and files are made from. SI throughout.
#pragma once
#include <array>
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include <lowspot/base/field.hpp>
#include <lowspot/base/geometry.hpp>
#include <lowspot/base/grid.hpp>
#include <lowspot/results/check_record.hpp>
#include <lowspot/results/option_record.hpp>
#include <lowspot/results/plausible_record.hpp>
#include <lowspot/results/share_record.hpp>
#include <lowspot/terrain/ground.hpp>
#include <lowspot/terrain/low_spots.hpp>

namespace lowspot::results {

struct LedgerRecord {                      // m3; names as in summary.json
  double rain = 0, inflow = 0;             // came in
  double left_over_edges = 0;              // over the ground and through it
  double left_underground = 0;             // part of left_over_edges
  double left_by_drains = 0;               // by outlets
  double deep_leakage = 0;                 // through the tight layer
  double evapotranspiration = 0;           // into the air
  double infiltrated = 0;                  // into soil and trenches
  double stored_start = 0, stored_end = 0; // in the yard
  double closure = 0;                      // measured less booked
};
// How one area fared.
struct AreaRecord {
  std::string name;       // of the area
  double max_depth = 0;   // m
  double peak_volume = 0; // m3
  double standing_hours_after_rain =
      0;                             // h, last time any of it stands deeper than the target depth; see below
  double standing_area = 0;          // m2 ever deeper than the target depth
  double soggy_hours = 0;            // h, mean over the area of soggy ground as in soggy.hpp, rain included
  bool clear_within_target = true;   // it stands no longer than the target allows
  bool judged = true;                // named in [target] areas (or none named)
  bool still_standing = false;       // at the end of the simulated time
  double soggy_hours_after_rain = 0; // h, until less than a tenth of the area is soggy
  bool still_soggy = false;          // at the end of the simulated time
  double perched_max = 0;            // m, deepest saturated thickness over the tight layer
  bool under_slab = false;           // soggy hours and perched water are those of the soil under it
};
// What a gauge saw.
struct GaugeRecord {
  std::string name;                      // as in the site file
  double max_depth = 0, time_of_max = 0; // m, s
  double standing_hours_after_rain = 0;  // h
  bool still_standing = false;           // at the end of the simulated time
};
struct FlowRecord {                 // lines and edges
  std::string name;                 // of the line, side or outlet
  double peak_flow = 0, volume = 0; // m3/s, m3
};
struct VesselRecord {        // one a dry well, pump, inlet or channel
  std::string name, kind;    // its name; "dry well", "pump", "inlet" or "channel"
  double highest_level = 0;  // elevation of its water [m]
  double highest_stored = 0; // m3; of wells and pumps
  double peak_flow = 0;      // m3/s that an inlet or channel passes on, or a pump lifts
  double volume = 0;         // m3 of that
};
// How far from the trench perched water is lowered by half against the yard as it is.
struct DrainReach {
  double left = 0, right = 0;                             // m from the trench wall, seen towards the foot
  double time = std::numeric_limits<double>::quiet_NaN(); // s; not a number: not known
};
struct DrainRecord {                            // one a run
  std::string name;                             // of the run
  double peak_flow = 0, full_flow_capacity = 0; // m3/s at its foot; as Drain::full_flow_capacity()
  double surcharged = 0;                        // s that some station ran full
  double volume_out = 0;                        // m3 that left at its foot
  std::string limited_by; // the member of the chain that limited it longest, or "nothing"
  std::vector<std::pair<std::string, double>> limit_hours; // hours each member limited, longest first
  // Share of the head lost in each member of the chain, mean over the time in which 5 mm and more are lost in
  // all: while it rains, and after. Largest first; empty when nothing was lost.
  std::vector<std::pair<std::string, double>> lost_in_storm{}, lost_in_drying{};
  DrainReach reach{}; // on either side
};
// Where a bed's water came from and went, mean over it, the whole depth of its topsoil [m]:
// change = rain + run_on + lateral - to_drain - drunk - leaked.
struct BedBudget {
  double rain = 0; // fell on it, past leaves and mulch
  double run_on =
      0; // soaked in beyond that (net of what ran off, dried on the surface or came out of the ground)
  double lateral = 0;  // net along the tight layer from the ground beside it
  double to_drain = 0; // net through trench walls
  double drunk = 0;    // by plants
  double leaked = 0;   // through the tight layer
  double change = 0;   // in the ground
};
// How one bed fared.
struct BedRecord {
  std::string name;                           // of the area
  double soggy_hours = 0;                     // h with soggy roots, mean over the bed
  double days_below_half_available_water = 0; // days, by the mean over the bed
  double lowest_available_fraction = 1;       // of the water that roots can use, mean over the bed
  double longest_soggy_hours = 0;             // h, longest spell with soggy roots in at least half of the bed
  std::string plants = {};                    // kind, as in the catalogue
  double wet_feet_low_hours = 0, wet_feet_high_hours = 0; // h they stand it; not a number: unknown
  double area = 0;                                        // m2
  double soggy_share =
      0; // water in the roots above the wilting point, as a share of what they can use, when soggy
  BedBudget budget = {};    // over the run
  bool still_soggy = false; // a tenth of it or more, at the end of the simulated time
  bool spell_open = false;  // the longest spell was not over by then
};
// One quantity at the output times.
struct Series {
  std::string name;           // column of hydrographs.csv without the design's name, unit suffix included
  std::vector<double> values; // one a time, in the unit that the name ends with
};
struct Frame {                       // maps at one time, one value a cell
  double time = 0;                   // s
  std::vector<float> depth, perched; // m on the ground, m of perched water
  std::vector<float> root_moisture;  // m3/m3
};
struct RunProfileRecord {       // along one run, for the profile drawing
  std::string run;              // its name
  std::vector<double> distance; // from its head [m], one a station like all below
  std::vector<double> ground, invert, stone_top, trench_bottom, highest_water; // elevations [m]
  double diameter = 0;                                                         // of the pipe, inside [m]
  Polyline path;                                                               // head to foot [m]
};
// One run: a design, or the yard as it is, in the storm.
struct DesignRecord {
  std::string name;                             // "as is" first
  LedgerRecord ledger;                          // of the water in the yard
  std::vector<AreaRecord> areas;                // in the order of the site file
  std::vector<GaugeRecord> gauges;              // in the order of the site file
  std::vector<FlowRecord> lines, edges;         // in the order of the site file; west, east, south, north
  std::vector<DrainRecord> drains;              // in the order of the design
  std::vector<FlowRecord> outlets{};            // of the drain
  std::vector<CheckRecord> checks{};            // of the list of checks
  std::vector<BedRecord> beds;                  // areas that name their plants
  std::vector<RunProfileRecord> profiles;       // in the order of the design
  bool own_ground = false;                      // works change its shape
  std::vector<terrain::LowSpot> low_spots;      // of its own ground; empty where that is the yard's
  std::vector<terrain::Earthwork> earthworks{}; // what is moved
  std::vector<double> time;                     // s, output times
  std::vector<Series> series;                   // as long as time
  std::vector<Frame> frames;                    // maps, at a subset of the output times
  // The dry spell of [season]; empty without one. Times from its start [s]; series as in `series`.
  std::vector<BedRecord> season_beds{};
  std::vector<double> season_time{};   // s
  std::vector<Series> season_series{}; // one a column
  Field max_depth;                     // m
  Field standing_hours; // h after rain ended that each cell stood deeper than the target depth (total time)
  Field standing_hours_total;          // h, during rain included
  Field last_standing;                 // s: the last moment each cell stood so deep, 0 if never
  Field soggy_hours;                   // h
  Field perched_max;                   // m
  SourceShares shares;                 // empty unless sources were followed
  long steps = 0;                      // hydraulic steps on the ground
  double wall_seconds = 0;             // s that the run took
  std::vector<VesselRecord> vessels{}; // wells, pumps, inlets, channels
  Field own_elevation{};               // m, the ground as its works leave it; empty: that of the yard
  bool still_standing = false; // some ground does, deeper than the target depth, as the simulated time ends
};
// What is recommended.
struct Verdict {
  std::string design;      // the one recommended, or "as is"
  bool target_met = false; // by that design
  std::string limited_by;  // the member of its chain that limits it longest, or "nothing"
  std::string sentence;    // one to three plain sentences
};
// The dry spell that was asked for.
struct SeasonPlan {
  double length = 0, reference_et = 0; // s, m/s; length 0: no season was asked for
  std::string month, start;            // start: "after the storm", "moist", ...
};
// All runs on one yard in one storm.
struct Comparison {
  std::string version;                              // of the program
  std::string method = "dynamic";                   // of the water on the ground, or "routed"
  std::string site_name;                            // as in the site file
  std::string units;                                // "ft" or "m"
  Grid grid;                                        // where the cells lie
  Field elevation;                                  // m, of the yard as it is
  std::vector<int> cover;                           // index in the site's areas, -1 lawn
  Mask active;                                      // 1: ground of the yard
  std::vector<std::string> warnings;                // sentences
  std::vector<std::array<std::string, 3>> defaults; // key, value, tag
  double storm_depth = 0, storm_duration = 0;       // m, s
  double storm_peak_intensity = 0, end_of_rain = 0; // m/s, s
  std::vector<double> rain_time, rain_intensity;    // stepwise
  std::vector<terrain::LowSpot> low_spots;          // of the yard as it is
  std::vector<DesignRecord> designs;                // the yard as it is first
  double standing_depth = 0, clear_within = 0;      // the target [m], [s]
  // What was agreed for the beds [s], not a number where nothing was: soggy roots at most, dry time at most,
  // and dry time beyond that of the yard as it is.
  double soggy_limit = std::numeric_limits<double>::quiet_NaN();
  double dry_limit = std::numeric_limits<double>::quiet_NaN();
  double dry_beyond = std::numeric_limits<double>::quiet_NaN();
  SeasonPlan season;                                            // the dry spell
  double daily_high = std::numeric_limits<double>::quiet_NaN(); // deg C in the month of the storm
  std::vector<std::string> cover_kinds; // of the site's areas, in their order; may be empty
  Verdict verdict;                      // what is recommended
  std::vector<OptionRecord> options{};  // ranked, doing nothing among them; may be empty
  PlausibleStudy plausible{};           // no draws unless they were asked for
  // Reference system of the coordinates, as WKT or "EPSG:1234"; empty: a grid of the site's own.
  std::string crs;
  std::vector<std::string> cover_names; // of the site's areas, in their order; may be empty
};

} // namespace lowspot::results
