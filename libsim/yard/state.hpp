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
#include <lowspot/yard/yard.hpp>

namespace lowspot::yard {

constexpr double wet_ground = 1e-4; // m: more than this on the ground is a pool

struct EdgeSupply { // water arriving along an edge
  std::vector<int> cells;
  std::vector<double> time, flow;
  std::string name;
};

struct Yard::State {
  // As Yard's constructor.
  State(const site::Site& site_, const terrain::Ground& ground_, const rain::Hyetograph& rain_,
        const site::Design* design_, const Options& options);

  const site::Site& site;
  std::unique_ptr<const terrain::Ground> reshaped; // where the design changes the ground
  const terrain::Ground& ground;
  const rain::Hyetograph& rain;
  const site::Design* design;
  std::vector<std::string> warnings;

  surface::Flow flow;
  bool routed; // method of the surface
  soil::Columns columns;
  perched::Layer layer;
  perched::Solver perched_solver;
  Field saturated;
  PlantDemand demand;
  std::optional<drain::Drain> drain;
  TrenchCover trench;
  std::vector<perched::Exchange> exchanges; // trench walls: one a station and cell
  std::vector<int> exchange_station;
  std::vector<double> exchange_share; // of the station's water that this cell may draw
  std::vector<RoofDischarge> roofs;
  std::vector<EdgeSupply> edge_supplies;
  std::vector<Seep> seeps;
  std::vector<Leak> leaks;
  std::optional<Sources> sources; // when they are followed
  std::vector<int> outlet_cell;   // where an outlet runs onto the ground, or -1: it leaves the yard
  std::vector<int> edge_side;     // compass side of each open face of the surface
  std::vector<int> rises_at;      // cell where water rises out of a station without a trench on open ground

  Ledger ledger;
  CellBooks books;
  StepFlows flows;
  double time = 0;
  double last_rain = -1e30; // s, when it last rained
  double since_perched = 0; // s the perched zone is behind
  double since_soil = 0;    // s that the columns are behind: soil_water waits at their tops
  double soil_span = 0;     // s for which soil_capacity holds
  double last_perched = 0;  // s, length of its last step
  double table_pace = 0;    // m/s, how fast the table moved anywhere in that step
  double pool_pace = 0;     // m/s, how fast any pool fell in the last step, once the ground rests
  double drain_pace = 0;    // m3/s, how fast the drain filled, emptied or ran in the last step
  double reference_et = 0;  // m/s, of the season
  double total_rain = 0;    // m3 of the whole storm, the yardstick of the closure
  double rain_so_far = 0;   // m3

  // one entry a cell
  Field open_sky;         // of the cell: see terrain::Ground
  Field canopy;           // m held on leaves and mulch
  Field later;            // m to be supplied over the next step: return flow, outlets on the ground
  Field later_from_drain; // m, the part of it that comes out of the drain
  Field supply, soil_capacity, trench_capacity, air_capacity, sink, taken;
  Field soil_water, recharge, net, overflow, short_of, rising, falling, head_above, depth_before;
  Field pressing;   // m that found a column full, and feeds it while it loses water below
  Field leaving;    // m/s that full columns under water lost below in the last perched step
  Field evaporated; // m since the last uptake, so that air and plants share one demand
  Field plant_demand, from_soil, from_saturated;
  // one entry a station
  std::vector<double> ponded, cap_capacity, through_cap, seeping, seeping_now, available;
  // openings of the drain to the ground, and downspouts tied into it
  std::vector<MouthCover> mouths;
  std::vector<double> through_mouth, on_mouths, into_tap;

  double take_by_mouths(double dt);       // m3 that went in over the step
  double choose_step(double until) const; // length of the next step [s], not past `until`
  double perched_interval() const;        // s between two steps of the perched zone
  double longest_rest() const;            // s, of a step while neither rain nor water on the ground moves
  // One step [s]; the soil's part of it; what a store holds, measured [m3]; what does not close [m3].
  void step(double dt);
  void soak(double drained);
  double measured(Store store) const;
  double closure() const;
  void reclassify_moisture(); // books what a moving table exchanged between soil and perched zone
  // Throws where the ledger does not close to 1e-9 of the storm.
  void check_books() const;

private:
  void gather_supply(double dt);
  void pour(const std::vector<int>& cells, double arriving, int tag);
  void offer_sinks(double dt);
  void move_surface(double dt);
  void renew_soil_capacity(double dt);
  bool water_stays() const;
  void find_table_pace(double dt);
  double hand_over_seeps();
  void draw_up(double dt);
  void move_perched(double step_dt, double drain_dt);
  void apply_net(Store returned_from, bool hold = false);
  void move_drain(double dt);
  double evaporation_rate() const; // m/s now
};

} // namespace lowspot::yard
