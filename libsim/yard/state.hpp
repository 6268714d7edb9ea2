// The inside of a yard: its modules, and the arrays that carry water between them for one step.
#pragma once
#include <memory>
#include <optional>

#include <lowspot/perched/solver.hpp>
#include <lowspot/yard/cell_books.hpp>
#include <lowspot/yard/mouth_cover.hpp>
#include <lowspot/yard/roofs.hpp>
#include <lowspot/yard/seeps.hpp>
#include <lowspot/yard/setup.hpp>
#include <lowspot/yard/sources.hpp>
#include <lowspot/yard/trench.hpp>
#include <lowspot/yard/waiting.hpp>
#include <lowspot/yard/yard.hpp>

namespace lowspot::yard {

constexpr double wet_ground = 1e-4;  // m: more than this on the ground is a pool
constexpr double same_moment = 1e-6; // s: times nearer than this are one
// Open water evaporates a little faster than the reference grass (Allen et al. 1998, table 12).
constexpr double open_water_coefficient = 1.05;

struct EdgeSupply {               // water arriving along an edge
  std::vector<int> cells;         // indices in the grid, fed evenly
  std::vector<double> time, flow; // s, m3/s from that time on
  std::string name;               // as in the list of sources
};

// All that changes in a yard, and what it refers to.
struct Yard::State {
  // As Yard's constructor.
  State(const site::Site& site_, const terrain::Ground& ground_, const rain::Hyetograph& rain_,
        const site::Design* design_, const Options& options);

  const site::Site& site;                          // as given
  std::unique_ptr<const terrain::Ground> reshaped; // where the design changes the ground
  const terrain::Ground& ground;                   // as given, or `reshaped`
  const rain::Hyetograph& rain;                    // as given
  const site::Design* design;                      // null: the yard as it is
  std::vector<std::string> warnings;               // of the drain, sentences

  surface::Flow flow;                       // water on the ground
  bool routed;                              // method of the surface
  soil::Columns columns;                    // the soil above the table
  perched::Layer layer;                     // what the perched solver is made for
  perched::Solver perched_solver;           // perched water
  Field saturated;                          // H, thickness of the perched water [m]
  PlantDemand demand;                       // of plants and of the air above bare ground
  std::optional<drain::Drain> drain;        // none: no drain
  TrenchCover trench;                       // of that drain
  std::vector<WallContact> walls;           // of that drain
  std::vector<perched::Exchange> exchanges; // trench walls: one a station and cell
  std::vector<int> exchange_station;        // of each of `exchanges`
  std::vector<double> exchange_share;       // of the station's water that this contact may draw
  std::vector<RoofDischarge> roofs;         // in the order of the buildings
  std::vector<EdgeSupply> edge_supplies;    // in the order of the site file
  std::vector<Seep> seeps;                  // underground
  std::vector<Leak> leaks;                  // constant flows that are supposed
  std::optional<Sources> sources;           // when they are followed
  std::vector<int> outlet_cell;             // where an outlet runs onto the ground, or -1: it leaves the yard
  std::vector<double> at_outlets;           // m, level of the water that stands at each, minus infinity: none
  std::vector<int> edge_side;               // compass side of each open face of the surface
  std::vector<int> rises_at; // cell where water rises out of a station without a trench on open ground

  Ledger ledger;            // of all stores [m3]
  CellBooks books;          // of every soil column [m]
  StepFlows flows;          // of the last step
  double time = 0;          // s
  double last_rain = -1e30; // s, when it last rained
  double since_perched = 0; // s the perched zone is behind
  double since_soil = 0;    // s that the columns are behind: soil_water waits at their tops
  double soil_span = 0;     // s for which soil_capacity holds
  double last_perched = 0;  // s, length of its last step
  double table_pace = 0;    // m/s, how fast the table moved anywhere in that step
  double share_taken = 0;   // by soil and drain, of what arrived on the ground in the last step
  double share_pace = 0;    // 1/s, how fast that changed
  double pool_pace = 0;     // m/s, how fast any pool fell in the last step, once the ground rests
  double stone_pace = 0;    // m/s, how fast water in the stone rose or fell anywhere in the last step
  double drain_pace = 0;    // m3/s, how fast the drain filled, emptied or ran in the last step
  double reference_et = 0;  // m/s, of the season
  double total_rain = 0;    // m3 of the whole storm, the yardstick of the closure
  double rain_so_far = 0;   // m3

  // one entry a cell
  Field open_sky;     // of the cell: see terrain::Ground
  Field canopy;       // m held on leaves and mulch
  WaitingWater later; // to be supplied next: return flow, outlets on the ground
  Field supply;       // m/s that arrive on the ground
  Field soil_capacity, trench_capacity, air_capacity; // m/s that each could take of it
  Field sink;                                         // m/s, the three together
  Field taken;                                        // m that they took in the last step
  Field trench_took;                                  // share of their capacity that caps and mouths took
  Field soil_water;                                   // m that went in since the columns were last moved
  Field recharge;                                     // m on their way from the columns to the table
  Field part_of_recharge;                             // m of it in a part of a perched step
  Field net;                                          // m by which the saturated zone is to change
  Field overflow, short_of;                           // m, see change_saturated()
  Field rising, falling;                              // pores to be filled and to be emptied [m3/m3]
  Field head_above;                                   // m of water on the ground, as the perched zone is told
  Field depth_before;                                 // m of water on the ground at the start of the step
  Field pressing; // m that found a column full, and feeds it while it loses water below
  Field leaving;  // m/s that full columns under water lost below in the last perched step
  Field sinking;  // m/s that plants and the tight layer took from the saturated zone in the last perched step
  Mask sealed;    // 1: full since water came to stand on it, see soil::Meanwhile
  Field evaporated;                // m since the last uptake, so that air and plants share one demand
  Field plant_demand;              // m asked for in an uptake
  Field from_soil, from_saturated; // m taken above the table and below it
  // one entry a station
  std::vector<double> ponded;                    // m on the ground
  std::vector<double> cap_capacity, through_cap; // m3/s that can go in, and that does
  std::vector<double> cap_found;     // m3/s that would, had all of the cap found what its water did
  std::vector<double> seeping;       // m3 on their way between soil and drain, negative towards the soil
  std::vector<double> stone_before;  // m, level in the stone at the start of the step
  std::vector<double> fresh_seepage; // m3 of them from the last perched step
  std::vector<double> soil_wall;     // m of a station's walls that it passes, in height
  std::vector<double> soil_gives;    // m3/s that pass those, whatever the other wall takes
  std::vector<double> seepage_rate;  // m3/s at which they go on
  std::vector<double> seeping_now;   // m3/s of them in this step
  std::vector<double> available;     // m3 that the soil may take
  // openings of the drain to the ground, and downspouts tied into it
  std::vector<MouthCover> mouths;                         // in the order of Drain::mouth()
  std::vector<double> through_mouth, on_mouths, into_tap; // m3/s, m, m3/s

  double take_by_mouths(double dt);       // m3 that went in over the step
  double choose_step(double until) const; // length of the next step [s], not past `until`
  double next_change() const;             // s: when rain, inflows, seeps or levels outside change next
  double longest_routed() const;          // s, of a step of routed water while it flows
  double perched_interval() const;        // s between two steps of the perched zone
  double longest_rest() const;            // s, of a step while neither rain nor water on the ground moves
  // One step [s]; the soil's part of it; what a store holds, measured [m3]; what does not close [m3].
  void step(double dt);
  void soak(double drained);
  double measured(Store store) const;
  double closure() const;
  void reclassify_moisture(); // books what a moving table exchanged between soil and perched zone
  std::string which() const;  // design it is, for messages
  // Throws where the ledger does not close to 1e-9 of the storm.
  void check_books() const;

private:
  void gather_supply(double dt, double before);
  void pour(const std::vector<int>& cells, double arriving, int tag);
  void find_ponded();
  void offer_sinks(double dt);
  void move_surface(double dt);
  void renew_soil_capacity(double dt);
  bool water_stays() const;
  void find_table_pace(double dt, double share);
  double hand_over_seeps();
  void draw_up(double dt);
  const perched::StepResult& step_perched(double dt, double share);
  void move_perched(double step_dt, double drain_dt);
  void move_perched_part(double part, double share);
  void find_water_at_outlets();
  void hand_over_seepage(double step_dt);
  void apply_net(Store returned_from, bool hold = false);
  void move_drain(double dt);
  double evaporation_rate() const; // m/s now
};

} // namespace lowspot::yard
