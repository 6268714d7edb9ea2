// A yard as described by its site file, in SI units, with every catalogue name already turned into figures.
#pragma once
#include <filesystem>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include <lowspot/base/geometry.hpp>
#include <lowspot/catalog/practice_limit.hpp>
#include <lowspot/site/design.hpp>
#include <lowspot/site/rules.hpp>
#include <lowspot/site/tune.hpp>

namespace lowspot::site {

// An uncertain quantity: low, likely, high (P10, P50, P90). A single value has all three equal.
struct Band {
  double low = 0;
  double likely = 0;
  double high = 0;
  bool is_band() const { return low != high; }
};

// A default that was used, for the list of assumptions. tag: "measured", "said" or "default".
struct Assumption {
  std::string key;
  std::string value; // as a person would write it, with unit
  std::string tag;
};

struct GroundInput {
  // Later entries refine earlier ones.
  std::string raster;             // file name as written, empty when none
  double raster_unit = not_given; // metres per vertical unit when stated
  std::string levels;             // file name as written, empty when none
  double levels_unit = not_given; // metres per unit of the readings when stated
  std::vector<std::vector<Point3>> breaklines;
  int raster_line = 0, levels_line = 0; // lines of the keys, for messages
};

enum class EdgeKind { open, wall };
struct EdgePart { // overrides a stretch of the outline
  Point from, to;
  EdgeKind kind = EdgeKind::open;
};
struct EdgeInflow {
  Polyline along;
  std::vector<double> time; // s; a constant inflow has one entry, 0
  std::vector<double> flow; // m3/s from that time on
  std::string name;
};
// Water that comes in underground: a flow spread along the line, or what a hillside saturated to a given
// thickness passes.
struct EdgeSeep {
  Polyline along;
  std::vector<double> time;     // s; a constant flow has one entry, 0
  std::vector<double> flow;     // m3/s from that time on; empty when `saturated` is given
  double saturated = not_given; // m over the tight layer, at the limit of the yard
  std::string name;
};
struct Edges {
  EdgeKind otherwise = EdgeKind::open;
  std::optional<EdgeKind> north, south, east, west; // by outward direction of the side
  std::vector<EdgePart> parts;
  std::vector<EdgeInflow> inflows;
  std::vector<EdgeSeep> seeps;
  std::optional<EdgeKind> underground; // whether perched water leaves; otherwise as the ground above it
};

enum class StartMoisture { drained, moist, wet, dry };

// A hole that water was let fall in, reduced.
struct HoleTest {
  std::string name;
  std::string layer;           // "topsoil", "tight layer", or empty: it speaks for neither
  bool used = false;           // its conductivity is part of the layer's
  double diameter = 0;         // m
  double depth = not_given;    // m below the ground
  double water_depth = 0;      // m, mean of the readings used
  double raw_rate = not_given; // m/s that the level fell
  Band conductivity;           // m/s; all 0 where the test gives none
  std::string says;            // what it means, in sentences
  int line = 0;                // in its table
};

struct Soil {
  std::string name;
  std::string texture;
  // topsoil
  Band depth;          // m
  Band conductivity;   // m/s
  double porosity = 0; // water content at saturation, m3/m3
  double field_capacity = 0;
  double wilting_point = 0;
  double residual = 0;
  double wetting_front_suction = 0; // m
  double pore_size_index = 0;       // Brooks-Corey lambda
  Band drainable_porosity;          // m3/m3
  double crust_conductivity = 0;    // m/s
  double crust_thickness = 0;       // m; 0: no crust
  double initial_moisture = 0;      // m3/m3, resolved from `start`
  // tight layer
  Band tight_conductivity;                                          // m/s
  double tight_thickness = std::numeric_limits<double>::infinity(); // m; infinite: leakage at unit gradient
  StartMoisture start = StartMoisture::moist;
  double perched_start = 0; // m of saturated thickness at time 0
  std::vector<HoleTest> holes;
  std::vector<std::string> holes_say; // what the holes say together, one text a layer
  int line = 0;
};

struct Plants {
  std::string kind;
  double root_depth = 0; // m
  double crop_coefficient = 0;
  double depletion_fraction = 0.5; // FAO-56 p
  std::string wet_feet;            // as written: "low", "moderate", "high"
  double hours_to_damage_low = not_given, hours_to_damage_high = not_given;
};

struct Area {
  std::string name;
  std::string kind; // row of the covers table, or "own figures"
  Polygon outline;
  std::vector<Point3> surface; // three or more shots: a plane that overrides the survey
  double manning_n = 0;
  double manning_n_deep = 0;     // when flow is deeper than twice the vegetation
  double vegetation_height = 0;  // m
  double depression_storage = 0; // m
  double interception = 0;       // m
  bool impervious = false;
  int soil = 0; // index in Site::soils
  // Slabs with joints: the share of their area that is joint, and what a joint takes in [m/s].
  double joint_share = 0;
  double joint_conductivity = 0;
  double crop_coefficient = 0; // of the cover where no plants are named; 0: bare or hard
  double soil_evaporation = 1; // share of what wet bare soil loses to the air that gets through this cover
  double slab_thickness = 0.1016, base_depth = 0.1016; // m, of an impervious area with a `surface`
  std::optional<Plants> plants;
  int line = 0;
};

struct Downspout {
  std::string name;
  Point at;
  double roof_area = 0; // m2
  std::string to;       // "ground" or the name of a run or fitting
  int line = 0;
};
struct Building {
  std::string name;
  Polygon outline;
  std::vector<Downspout> downspouts; // empty: the roof sheds evenly at the foot of the walls
  int line = 0;
  double footing_depth = not_given; // bottom of the footing below the ground beside it [m]
  double floor = not_given;         // elevation of the lowest place where water could get in [m]
};

struct Wall {
  std::string name;
  Polyline line;
  double height = 0; // m above the ground beside it
};

struct RainBlock {
  double duration = 0;  // s
  double intensity = 0; // m/s
};
struct LaterStorm {
  double after = 0; // s after the end of what came before
  double depth = 0, duration = 0;
  std::string pattern;
};
struct Storm {
  std::string pattern =
      "nested"; // "uniform", "nested", "nrcs-i", "nrcs-ia", "nrcs-ii", "nrcs-iii", "gauge", "blocks"
  double depth = not_given;         // m
  double duration = not_given;      // s
  std::string table;                // depth-duration file as written, empty when none
  double return_period = not_given; // years
  std::string gauge;                // gauge file as written
  std::vector<RainBlock> blocks;
  std::vector<LaterStorm> then;
  double dry = 7 * 86400.0;        // s simulated after the last rain
  double reference_et = not_given; // m/s
  std::string month;
  double daily_high = not_given; // of the days of that month [deg C]
  int line = 0;                  // of [storm], for messages
};

// A dry spell with plants drinking, to see whether beds go thirsty.
struct Season {
  double dry_spell = 0;          // s; 0: none asked for
  double reference_et = 0;       // m/s
  double daily_high = not_given; // deg C
  std::string month;
  std::optional<StartMoisture> start; // none: goes on from the storm
};

struct Target {
  double standing_depth = 0.00635;      // m
  double clear_within = 86400;          // s after rain ends
  std::vector<std::string> areas;       // empty: all
  double soggy_hours_limit = not_given; // s that roots of a bed may stand in full ground
  // Time that a bed may lack water: in all, or beyond what it lacks as the yard is [s].
  double dry_limit = not_given, dry_beyond = not_given;
  std::string dry_days; // as written
};

struct Gauge {
  std::string name;
  Point at;
  int line = 0;
};
struct CrossLine {
  std::string name;
  Polyline path;
  int line = 0;
};

// What someone saw: a place that stood wet so long after so much rain, or without rain.
struct Seen {
  std::string name;
  std::string area;                 // empty when `at` is given
  std::optional<Point> at;          // m
  double rain = not_given;          // m; no number: it was wet without rain
  double rain_duration = not_given; // s
  double lasted = 0;                // s after that rain, or s without rain
  int line = 0;
};

// A place where a drain might end.
struct OutletCandidate {
  std::string name;
  std::string kind; // "ditch", "curb", "street", "daylight" or a word of the owner's
  Point at;
  double level = not_given; // elevation that the invert must reach [m]; not given: the ground there
  int line = 0;
};
// What a pipe to an outlet must keep to.
struct ReachRules {
  double cover = 0.1524;        // m of ground over the pipe
  double pipe = 0.117;          // outside diameter [m]
  double least_fall = 0.005;    // m/m
  double deepest_cut = 1.524;   // ground to invert [m]
  double run_out = 6.096;       // m before the outlet in which the cover may thin out
  double trench_width = 0.3048; // m
  double paving_factor = 4;     // how much dearer it is to dig through paving, for the choice of the way
};

struct RunOptions {
  double until = not_given;        // s
  double output_every = not_given; // s
};

// How quantities become orders, and prices of the user's own. Defaults are usual in the trade.
struct Rate {
  std::string item; // as the take-off names it
  double price = 0; // per unit
  std::string per;  // "ft", "m", "ft2", "m2", "yd3", "m3", "ton", "tonne", "load", "each"
  int line = 0;
};
struct Ordering {
  double pipe_waste = 0.05, stone_waste = 0.08, fabric_waste = 0.15, sod_waste = 0.10; // shares
  double fabric_lap = 0.3048;  // m, over the top of the stone
  double swell = 1.25;         // volume of loose spoil over that in the ground
  double truck = 7.6455;       // m3 in a load
  double pipe_piece = 3.048;   // m: pipe is ordered in whole pieces
  double sod_margin = 0.1524;  // m lifted on either side of a trench
  double dig_rate = not_given; // m of trench a crew digs, pipes and fills in an hour [m/s]
  std::string currency = "$";
  std::vector<Rate> rates;
};

struct Site {
  std::string name;
  std::filesystem::path file;   // the site file
  std::filesystem::path folder; // where the tables it names are
  std::string units = "ft";     // "ft" or "m": of coordinates in the file, and on paper
  double unit = 0.3048;         // metres in one unit
  Polygon outline;
  double cell = not_given; // m
  double north = 0;        // rad, turns the arrow on maps
  std::string crs;         // empty: local
  GroundInput ground;
  Edges edges;
  std::vector<Soil> soils; // at least one; the first is the default
  std::vector<Area> areas; // later lie over earlier
  Area lawn;               // the cover where no area lies
  std::vector<Building> buildings;
  std::vector<Wall> walls;
  Storm storm;
  Season season;
  Target target;
  std::vector<Gauge> gauges;
  std::vector<CrossLine> lines;
  std::vector<Seen> seen;
  std::vector<Design> designs;
  Ordering ordering;
  std::vector<OutletCandidate> outlet_candidates;
  ReachRules reach;
  std::vector<catalog::PracticeLimit> limits; // of the catalogue, or the town's own
  std::vector<KeepOff> keep_offs;
  std::vector<Tree> trees;
  std::vector<Utility> utilities;
  RunOptions run;
  std::optional<Tune> tune;
  std::vector<Assumption> assumptions;
  std::vector<std::string> warnings;
};

} // namespace lowspot::site
