// What a drain did: flows, surcharge, and which member of the chain held it back.
#pragma once
#include <array>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include <lowspot/results/record.hpp>
#include <lowspot/yard/yard.hpp>

namespace lowspot::results {

// Follows the drain of one run.
class DrainRecorder {
public:
  // Begins at the state of the yard; step() adds what each step did.
  explicit DrainRecorder(const yard::Yard& yard);
  void step(const yard::Yard& yard, const yard::StepFlows& flows);
  // Column names and values now, for hydrographs.csv.
  std::vector<std::pair<std::string, double>> outlet_series(const yard::Yard& yard) const;
  std::vector<std::pair<std::string, double>> run_series(const yard::Yard& yard) const;
  std::vector<DrainRecord> finish(const yard::Yard& yard) const;
  std::vector<RunProfileRecord> profiles(const yard::Yard& yard) const;
  const std::vector<VesselRecord>& vessels() const { return vessels_; }
  std::vector<FlowRecord> outlets() const;

  // The chain from the ground to the free end. Soil: from the perched table beside the trench to its wall,
  // counted only while no water stands on the cap, since the two ways in lie side by side.
  enum Member { in_cap, in_soil, in_fabric, in_stone, in_slots, in_pipe, in_outlet, members };
  // Their names in results.
  static const std::array<const char*, members> member_names;
  using Losses = std::array<double, members>; // m

private:
  Losses losses_now(const yard::Yard& yard, std::size_t run, const drain::RunState& state) const;
  void find_vessels(const yard::Yard& yard);
  void step_vessels(const drain::Drain& drain);
  bool is_outlet(std::size_t vessel) const;
  std::vector<DrainRecord> runs_;
  std::vector<std::map<std::string, double>> limit_seconds_; // per run
  std::vector<double> outlet_flow_;                          // m3/s over the last step
  std::vector<double> before_;                               // m3 past each foot before the recorder began
  std::vector<double> vessel_before_;                        // m3 that each inlet had passed on by then
  std::vector<double> highest_;                              // grade line or stone level, per station [m]
  // Wells and pumps, then inlets and channels; where each stands among the outlets or fittings of the layout.
  std::vector<VesselRecord> vessels_;
  std::vector<int> place_;
  std::vector<double> vessel_flow_; // m3/s over the last step
  std::vector<FlowRecord> outlets_;
  std::vector<Losses> losses_; // of each run at the last step
  struct Sums {
    Losses share{};     // s
    double seconds = 0; // in which anything worth naming was lost
  };
  std::vector<std::array<Sums, 2>> sums_; // per run: while it rains, after
};

} // namespace lowspot::results
