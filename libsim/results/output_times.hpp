// When a run writes down what it sees.
#pragma once
#include <vector>

#include <lowspot/site/site.hpp>

namespace lowspot::results {

struct OutputTimes {
  std::vector<double> times;   // s, from 0 to the end
  std::vector<bool> with_maps; // maps are kept at a subset of them
};

// Every five minutes in the storm and the hours after it, coarser as the yard dries; or evenly, every
// [run] output_every. end_of_rain and end in seconds.
OutputTimes plan_outputs(const site::RunOptions& options, double end_of_rain, double end);

} // namespace lowspot::results
