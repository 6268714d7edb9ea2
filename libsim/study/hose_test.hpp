// The test at hand-over: a hose runs onto the ground or the trench, someone watches the outlet.
#pragma once
#include <functional>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::study {

// How the hose is run.
struct HoseOptions {
  // m; none: the lowest cell of the low spot that holds most of the judged areas' water, on the ground as the
  // design leaves it; where no slotted pipe lies, the first inlet or channel
  std::optional<Point> at;
  double flow = 3.15451e-4;                   // m3/s: 5 gal/min
  double duration = 1200;                     // s
  double watch = 86400;                       // s after the hose is shut, at most
  int threads = 0;                            // for the water on the ground; 0: one a core
  std::function<void(double share)> progress; // 0..1; may throw to end it
};

// What is expected at one of the outlets.
struct HoseOutlet {
  std::string name;                                              // of the outlet
  double first_water = std::numeric_limits<double>::quiet_NaN(); // s, as of the whole test
  double volume = 0;                                             // m3 that came out of it
  bool fills = false; // a dry well, which lets nothing out unless it runs over
  bool lid = false;   // a pop-up with a weep hole: water is seen at its lid alone
};

// What the test is expected to show.
struct HoseTest {
  std::string design;            // its name
  Point at;                      // middle of the wetted patch [m]
  std::string place;             // "low spot 1", "the place given"
  bool over_trench = false;      // the hose runs onto a trench
  bool at_grate = false;         // it runs into an inlet or channel, where no slotted pipe takes water in
  bool takes_in = true;          // water on the ground can get in; otherwise only what roofs send
  double flow = 0, duration = 0; // as asked for
  double given = 0;              // m3
  // From the opening of the hose to the first water seen at an outlet, the time at which a hundredth of the
  // hose's flow comes out. What the weep hole of a pop-up lets out below the ground nobody sees: it is left
  // out here and in the flows below. Not a number: none within the time watched [s].
  double first_water = std::numeric_limits<double>::quiet_NaN();
  double held_at_first_water = 0; // m3 in the drain then
  // m3/s at the outlets, mean over the last tenth of the time the hose runs; of a pump that starts and stops
  // the mean over its last whole cycles, three at most.
  double last_flow = 0;
  int cycles = 0;      // times that a pump began to run while the hose ran; 0 without a pump
  bool steady = false; // within 2 % of the tenth before
  // After the hose is shut: until the outlets give less than a hundredth of its flow, and until no ground
  // stands deeper than the target depth; not a number: longer than was watched [s].
  double outlet_stops = std::numeric_limits<double>::quiet_NaN();
  double puddle_gone = std::numeric_limits<double>::quiet_NaN();
  // What the weep holes of pop-ups let out below the ground: the first of it, and how long they go on after
  // the hose is shut; not a number: none, and longer than was watched [s].
  double weep_first = std::numeric_limits<double>::quiet_NaN();
  double weep_stops = std::numeric_limits<double>::quiet_NaN();
  double through_weeps = 0;        // m3 of through_outlets that came out of them
  double deepest = 0;              // m, water on the ground at the place
  std::string well;                // the dry well or pump basin that fills highest; empty: none
  double well_depth = 0;           // m, its deepest water
  double well_whole = 0;           // m, its depth
  double capacity = 0;             // m3/s that the fullest-running pipe at an outlet carries when full
  double through_outlets = 0;      // m3 that came out of the outlets, on the ground of the yard or beyond
  std::vector<HoseOutlet> outlets; // as the design has them
  // Where the water was when the watch ended [m3]; they sum to `given`. to_soil is the rest, negative where
  // the ground gave the drain more than it took.
  double by_outlets = 0, over_edges = 0, on_ground = 0, in_drain = 0, to_soil = 0; // m3
  double in_wells = 0;                   // m3 of in_drain that stand in pits and basins
  std::vector<double> time, outlet_flow; // s, m3/s: for a chart
  std::vector<double> weep_flow;         // m3/s
  std::vector<std::string> says;         // what to expect, in sentences
  std::vector<std::string> proves;       // what the test proves, and what it does not
};

// Runs the design without rain, without evaporation and without what comes in over or under the limits of the
// yard, from the moisture that the site starts with. A dry
// well or pump counts as an outlet by what leaves the yard from it. Throws InputError for a place outside the
// yard or under a building, or a design that cannot be built.
HoseTest hose_test(const site::Site& site, const terrain::Ground& ground, const site::Design& design,
                   const HoseOptions& options = {});

// The cell where the hose lies when no place is given.
int lowest_judged_cell(const site::Site& site, const terrain::Ground& ground, std::string& place);

} // namespace lowspot::study
