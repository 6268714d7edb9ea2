// A yard as described by its site file, in SI units, with every catalogue name already turned into figures.
#pragma once
#include <cmath>
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
  double low = 0;    // P10
  double likely = 0; // P50
  double high = 0;   // P90
  bool is_band() const { return low != high; }
};

// A default that was used, for the list of assumptions. tag: "measured", "said" or "default".
struct Assumption {
  std::string key;   // in the site file, its tables before it: "storm.depth"
  std::string value; // as a person would write it, with unit
  std::string tag;   // how far the value can be trusted
};

// Where the shape of the ground comes from.
struct GroundInput {
  // Later entries refine earlier ones.
  std::string raster;                          // file name as written, empty when none
  double raster_unit = not_given;              // metres per vertical unit when stated
  std::string levels;                          // file name as written, empty when none
  double levels_unit = not_given;              // metres per unit of the readings when stated
  std::vector<std::vector<Point3>> breaklines; // lines of points along which the ground bends [m]
  int raster_line = 0, levels_line = 0;        // lines of the keys, for messages
};

// What happens at the limit of the yard: water leaves, or a wall stands.
enum class EdgeKind { open, wall };
struct EdgePart {                 // overrides a stretch of the outline
  Point from, to;                 // places on the outline [m]
  EdgeKind kind = EdgeKind::open; // between the two, the shorter way round
};
// Water that runs in over the ground along a line.
struct EdgeInflow {
  Polyline along;           // on the outline [m]
  std::vector<double> time; // s; a constant inflow has one entry, 0
  std::vector<double> flow; // m3/s from that time on
  std::string name;         // as in the site file
};
// Water that comes in underground: a flow spread along the line, or what a hillside saturated to a given
// thickness passes.
struct EdgeSeep {
  Polyline along;               // on the outline [m]
  std::vector<double> time;     // s; a constant flow has one entry, 0
  std::vector<double> flow;     // m3/s from that time on; empty when `saturated` is given
  double saturated = not_given; // m over the tight layer, at the limit of the yard
  std::string name;             // as in the site file
};
// What happens at the limits of the yard.
struct Edges {
  EdgeKind otherwise = EdgeKind::open;              // where nothing else is said
  std::optional<EdgeKind> north, south, east, west; // by outward direction of the side
  std::vector<EdgePart> parts;                      // later ones over earlier
  std::vector<EdgeInflow> inflows;                  // over the ground
  std::vector<EdgeSeep> seeps;                      // underground
  std::optional<EdgeKind> underground; // whether perched water leaves; otherwise as the ground above it
};

// How wet the soil is at time 0: at field capacity; a day or so after rain; perched water on the tight layer;
// half of what plants can use is gone.
enum class StartMoisture { drained, moist, wet, dry };

// A hole that water was let fall in, reduced.
struct HoleTest {
  std::string name;            // as in the table
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

// The topsoil and the tight layer under it.
struct Soil {
  std::string name;    // as areas call it
  std::string texture; // row of the soils table
  // topsoil
  Band depth;                       // m
  Band conductivity;                // m/s
  double porosity = 0;              // water content at saturation, m3/m3
  double field_capacity = 0;        // content when gravity has drained it [m3/m3]
  double wilting_point = 0;         // content at which plants wilt [m3/m3]
  double residual = 0;              // content that does not move [m3/m3]
  double wetting_front_suction = 0; // m
  double pore_size_index = 0;       // Brooks-Corey lambda
  Band drainable_porosity;          // m3/m3
  double crust_conductivity = 0;    // m/s
  double crust_thickness = 0;       // m; 0: no crust
  double initial_moisture = 0;      // m3/m3, resolved from `start`
  // tight layer
  Band tight_conductivity;                                          // m/s
  double tight_thickness = std::numeric_limits<double>::infinity(); // m; infinite: leakage at unit gradient
  StartMoisture start = StartMoisture::moist;                       // as the file says it
  double perched_start = 0;                                         // m of saturated thickness at time 0
  std::vector<HoleTest> holes;                                      // tests made in this soil
  std::vector<std::string> holes_say; // what the holes say together, one text a layer
  int line = 0;                       // of its table in the site file
};

// What grows on an area.
struct Plants {
  std::string kind;                        // row of the plants table, or "own figures"
  double root_depth = 0;                   // m
  double crop_coefficient = 0;             // evapotranspiration over that of the reference lawn
  double depletion_fraction = 0.5;         // FAO-56 p
  std::string wet_feet;                    // as written: "low", "moderate", "high"
  double hours_to_damage_low = not_given;  // s of soggy roots after which the first plants suffer
  double hours_to_damage_high = not_given; // s after which most do
};

// A part of the yard under one cover.
struct Area {
  std::string name;              // as in the site file
  std::string kind;              // row of the covers table, or "own figures"
  Polygon outline;               // m
  std::vector<Point3> surface;   // three or more shots: a plane that overrides the survey
  double manning_n = 0;          // of shallow flow [s/m^(1/3)]
  double manning_n_deep = 0;     // when flow is deeper than twice the vegetation
  double vegetation_height = 0;  // m
  double depression_storage = 0; // m
  double interception = 0;       // m
  bool impervious = false;       // takes no water in but through joints
  int soil = 0;                  // index in Site::soils
  // Slabs with joints: the share of their area that is joint, and what a joint takes in [m/s].
  double joint_share = 0;
  double joint_conductivity = 0; // m/s
  double crop_coefficient = 0;   // of the cover where no plants are named; 0: bare or hard
  double soil_evaporation = 1;   // share of what wet bare soil loses to the air that gets through this cover
  double slab_thickness = 0.1016, base_depth = 0.1016; // m, of an impervious area with a `surface`
  std::optional<Plants> plants;                        // none: no bed
  int line = 0;                                        // of its table in the site file
};

// Where roof water comes down.
struct Downspout {
  std::string name;     // as in the site file
  Point at;             // foot of the pipe [m]
  double roof_area = 0; // m2
  std::string to;       // "ground" or the name of a run or fitting
  int line = 0;         // of its table in the site file
};
// A building: no ground, but a roof that sheds.
struct Building {
  std::string name;                  // as in the site file
  Polygon outline;                   // of its walls [m]
  std::vector<Downspout> downspouts; // empty: the roof sheds evenly at the foot of the walls
  int line = 0;                      // of its table in the site file
  double footing_depth = not_given;  // bottom of the footing below the ground beside it [m]
  double floor = not_given;          // elevation of the lowest place where water could get in [m]
};

// A wall on the ground that water must climb.
struct Wall {
  std::string name;  // as in the site file
  Polyline line;     // m
  double height = 0; // m above the ground beside it
};

// Rain of one intensity.
struct RainBlock {
  double duration = 0;  // s
  double intensity = 0; // m/s
};
// More rain after the storm.
struct LaterStorm {
  double after = 0;               // s after the end of what came before
  double depth = 0, duration = 0; // m, s
  std::string pattern;            // "uniform" or another of the designed ones of Storm::pattern
};
// The rain, and how long the yard is watched after it.
struct Storm {
  std::string pattern =
      "nested"; // "uniform", "nested", "nrcs-i", "nrcs-ia", "nrcs-ii", "nrcs-iii", "gauge", "blocks"
  double depth = not_given;         // m
  double duration = not_given;      // s
  std::string table;                // depth-duration file as written, empty when none
  double return_period = not_given; // years
  std::string gauge;                // gauge file as written
  std::vector<RainBlock> blocks;    // one after another, for "blocks"
  std::vector<LaterStorm> then;     // later storms, each after the one before
  double dry = 7 * 86400.0;         // s simulated after the last rain
  double reference_et = not_given;  // m/s
  std::string month;                // of the climate table, whose figures count; empty: none named
  double daily_high = not_given;    // of the days of that month [deg C]
  int line = 0;                     // of [storm], for messages
  int return_period_line = 0;       // of that key
  // Whether the storm is that of the return period: a depth of its own takes the place of the table's.
  bool comes_by_period() const { return std::isfinite(return_period) && !std::isfinite(depth); }
};

// A dry spell with plants drinking, to see whether beds go thirsty.
struct Season {
  double dry_spell = 0;               // s; 0: none asked for
  double reference_et = 0;            // m/s
  double daily_high = not_given;      // deg C
  std::string month;                  // of the climate table; empty: none named
  std::optional<StartMoisture> start; // none: goes on from the storm
};

// What was agreed with the owner.
struct Target {
  double standing_depth = 0.00635;      // m
  double clear_within = 86400;          // s after rain ends
  std::vector<std::string> areas;       // empty: all
  double soggy_hours_limit = not_given; // s that roots of a bed may stand in full ground
  // Time that a bed may lack water: in all, or beyond what it lacks as the yard is [s].
  double dry_limit = not_given, dry_beyond = not_given;
  std::string dry_days; // as written
};

// A place where the depth of water is recorded.
struct Gauge {
  std::string name; // as in the site file
  Point at;         // m
  int line = 0;     // of its table in the site file
};
// A line over which the flow is recorded.
struct CrossLine {
  std::string name; // as in the site file
  Polyline path;    // m
  int line = 0;     // of its table in the site file
};

// What someone saw: a place that stood wet so long after so much rain, or without rain.
struct Seen {
  std::string name;                 // as in the site file
  std::string area;                 // empty when `at` is given
  std::optional<Point> at;          // m
  double rain = not_given;          // m; no number: it was wet without rain
  double rain_duration = not_given; // s
  double lasted = 0;                // s after that rain, or s without rain
  int line = 0;                     // of its table in the site file
};

// A place where a drain might end.
struct OutletCandidate {
  std::string name;         // as in the site file
  std::string kind;         // "ditch", "curb", "street", "daylight" or a word of the owner's
  Point at;                 // m
  double level = not_given; // elevation that the invert must reach [m]; not given: the ground there
  int line = 0;             // of its table in the site file
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

// How long a run goes and how often it writes.
struct RunOptions {
  double until = not_given;        // s
  double output_every = not_given; // s
};

// A price of the user's own.
struct Rate {
  std::string item; // as the take-off names it
  double price = 0; // per unit
  std::string per;  // "ft", "m", "ft2", "m2", "yd3", "m3", "ton", "tonne", "load", "each"
  int line = 0;     // of its table in the site file
};
// How quantities become orders, and prices of the user's own. Defaults are usual in the trade.
struct Ordering {
  double pipe_waste = 0.05, stone_waste = 0.08, fabric_waste = 0.15, sod_waste = 0.10; // shares
  double fabric_lap = 0.3048;  // m, over the top of the stone
  double swell = 1.25;         // volume of loose spoil over that in the ground
  double truck = 7.6455;       // m3 in a load
  double pipe_piece = 3.048;   // m: pipe is ordered in whole pieces
  double sod_margin = 0.1524;  // m lifted on either side of a trench
  double dig_rate = not_given; // m of trench a crew digs, pipes and fills in an hour [m/s]
  std::string currency = "$";  // stands before every price
  std::vector<Rate> rates;     // the user's own prices
};

// All that a site file says.
struct Site {
  std::string name;                               // of the yard
  std::filesystem::path file;                     // the site file
  std::filesystem::path folder;                   // where the tables it names are
  std::string units = "ft";                       // "ft" or "m": of coordinates in the file, and on paper
  double unit = 0.3048;                           // metres in one unit
  Polygon outline;                                // limit of the yard [m]
  double cell = not_given;                        // m
  double north = 0;                               // rad, turns the arrow on maps
  std::string crs;                                // empty: local
  GroundInput ground;                             // its shape
  Edges edges;                                    // its limits
  std::vector<Soil> soils;                        // at least one; the first is the default
  std::vector<Area> areas;                        // later lie over earlier
  Area lawn;                                      // the cover where no area lies
  std::vector<Building> buildings;                // no ground under them
  std::vector<Wall> walls;                        // on the ground
  Storm storm;                                    // the rain
  Season season;                                  // a dry spell, when one is asked for
  Target target;                                  // what was agreed
  std::vector<Gauge> gauges;                      // places to be recorded
  std::vector<CrossLine> lines;                   // lines to be recorded
  std::vector<Seen> seen;                         // what was observed, for diagnose
  std::vector<Design> designs;                    // what is proposed
  Ordering ordering;                              // how quantities become orders
  std::vector<OutletCandidate> outlet_candidates; // places where a drain might end
  ReachRules reach;                               // what a pipe to them must keep to
  std::vector<catalog::PracticeLimit> limits;     // of the catalogue, or the town's own
  std::vector<KeepOff> keep_offs;                 // to stay away from
  std::vector<Tree> trees;                        // to stay away from
  std::vector<Utility> utilities;                 // in the ground
  RunOptions run;                                 // how long and how often
  std::optional<Tune> tune;                       // none: nothing may vary
  std::vector<Assumption> assumptions;            // every default that was used
  std::vector<std::string> warnings;              // sentences
};

} // namespace lowspot::site
