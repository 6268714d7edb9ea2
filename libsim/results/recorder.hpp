// Writes down a run as it goes: extremes and times at every step, series and maps at the output times.
#pragma once
#include <memory>

#include <lowspot/results/output_times.hpp>
#include <lowspot/results/record.hpp>
#include <lowspot/yard/yard.hpp>

namespace lowspot::results {

// Makes the record of one run.
class Recorder : public yard::Observer {
public:
  // Begins at the state of the yard; the plan says at which times whole fields are kept.
  Recorder(const yard::Yard& yard, OutputTimes plan);
  ~Recorder() override;

  // Records the shares of sources, too, of a yard that follows them: call before its first step.
  void follow_shares(yard::Yard& yard, const std::vector<terrain::LowSpot>& low_spots);

  // Called by the yard after every step.
  void step_done(const yard::Yard& yard, const yard::StepFlows& flows) override;
  // Adds the output row of the present time; call at every time of the plan, the first at time 0.
  void output(const yard::Yard& yard);
  const OutputTimes& plan() const;
  // Everything recorded; call once, at the end. wall_seconds: what the run cost.
  DesignRecord finish(const yard::Yard& yard, double wall_seconds);

private:
  struct State;
  std::unique_ptr<State> state_;
};

} // namespace lowspot::results
