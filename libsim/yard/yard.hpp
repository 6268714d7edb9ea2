// A yard in a storm: couples surface, soil, perched water and drain, owns the clock and the ledger.
#pragma once
#include <memory>
#include <span>
#include <string>
#include <vector>

#include <lowspot/base/ledger.hpp>
#include <lowspot/drain/drain.hpp>
#include <lowspot/rain/hyetograph.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/soil/column.hpp>
#include <lowspot/surface/flow.hpp>
#include <lowspot/terrain/ground.hpp>
#include <lowspot/yard/cell_books.hpp>
#include <lowspot/yard/sources.hpp>
#include <lowspot/yard/trench.hpp>

namespace lowspot::yard {

// What happened between start() and now in the last step.
struct StepFlows {
  double start = 0;            // s
  double dt = 0;               // s
  double rain = 0;             // m/s
  double side_volume[4] = {};  // m3 over the ground across west, east, south, north
  double underground = 0;      // m3 through the soil across open edges
  std::vector<double> outlets; // m3 per outlet of the drain
  std::vector<double> lines;   // m3 per recorded line, signed
  double infiltrated = 0;      // m3 into soil and trenches
};

// Told after every step. The yard's state is that at the end of the step.
class Yard;
// One who is told what a yard does.
class Observer {
public:
  virtual ~Observer() = default;
  // Called after every step, with what moved in it.
  virtual void step_done(const Yard& yard, const StepFlows& flows) = 0;
};

// How a yard is run.
struct Options {
  surface::Method method = surface::Method::dynamic; // of the water on the ground
  bool follow_sources = false; // whether the water on the ground is told apart by where it came from
  std::vector<Leak> leaks;     // flows without rain
  int threads = 1;             // for the water on the ground; the answer is the same whatever their number
};

// A yard with all its water, at one moment.
class Yard {
public:
  // All but the options must outlive it. design: null: as it is. Throws InputError for what cannot be built.
  Yard(const site::Site& site, const terrain::Ground& ground, const rain::Hyetograph& rain,
       const site::Design* design, const Options& options = {});
  ~Yard();
  Yard(Yard&&) noexcept;

  // Simulates up to time `until` [s]. Throws NumericsError when the books do not close.
  void advance(double until, Observer* observer = nullptr);

  // What the air asks of a reference lawn from now on [m/s]: another season. At first that of the storm.
  void set_reference_et(double rate);

  double time() const;     // s
  double end_time() const; // s: rain, later storms and the dry spell, or [run] until
  // Seconds from the start.
  double end_of_rain() const;
  // As given at the start; design() is null for the yard as it is.
  const site::Site& site() const;
  const terrain::Ground& ground() const;
  const site::Design* design() const;
  const std::vector<std::string>& warnings() const;

  std::span<const double> depth() const;     // of water on the ground [m], interception not included
  std::span<const double> saturated() const; // thickness of perched water [m]
  // 1: ground under water whose soil has been full to the top since that came to stand there. Where a trench
  // draws on it, saturated() is then the head of that flow, but no air has come in.
  std::span<const std::uint8_t> sealed() const;
  // The soil above the table.
  const soil::Columns& columns() const;
  // The layers' own states, for those who record.
  const surface::Flow& surface() const;
  const drain::Drain* drain() const; // null without one
  // Where the walls of its trenches meet the soil; empty without a drain.
  const std::vector<WallContact>& walls() const;
  // Sources by name; empty unless they are followed. Their shares in the water of each cell; null likewise.
  const std::vector<Source>& sources() const;
  const surface::Tags* shares() const;
  // What arrived on the ground in the last step, by source [m/s].
  std::span<const surface::TagSupply> arriving() const;
  // Counts by source what crosses these gates from now on; for shares()->passed(). Nothing unless followed.
  void watch(std::vector<surface::Gate> gates);
  const Ledger& ledger() const;
  const CellBooks& cell_books() const; // the account of every soil column
  double stored(Store store) const;    // measured [m3]
  double closure() const;              // measured minus booked, all stores [m3]
  double rain_volume() const;          // m3 so far

private:
  struct State;
  std::unique_ptr<State> state_;
};

} // namespace lowspot::yard
