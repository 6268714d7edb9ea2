// What the water of a place is made of, source by source: at its fullest, over time, and all that came.
#pragma once
#include <memory>
#include <string>
#include <vector>

#include <lowspot/results/share_record.hpp>
#include <lowspot/terrain/low_spots.hpp>
#include <lowspot/yard/yard.hpp>

namespace lowspot::results {

// Watches every area, the larger low spots, the gauges and the four sides of a yard that follows its sources.
class ShareRecorder {
public:
  // Asks the yard to count what crosses the limits of these places. Nothing is recorded when the yard does
  // not follow its sources.
  ShareRecorder(yard::Yard& yard, const std::vector<terrain::LowSpot>& low_spots);
  ~ShareRecorder();
  ShareRecorder(ShareRecorder&&) noexcept;

  void step(const yard::Yard& yard, double dt); // after every step
  void output(const yard::Yard& yard);          // at every output time
  SourceShares finish(const yard::Yard& yard);  // once, at the end

private:
  struct State;
  std::unique_ptr<State> state_;
};

} // namespace lowspot::results
