// When a run writes down what it sees.
#pragma once
#include <cstddef>
#include <vector>

#include <lowspot/site/site.hpp>

namespace lowspot::results {

// The times at which a run is written down.
struct OutputTimes {
  std::vector<double> times;   // s, from 0 to the end
  std::vector<bool> with_maps; // maps are kept at a subset of them
};

constexpr std::size_t most_maps = 120; // of a run

// Every five minutes in the storm and the hours after it, coarser as the yard dries; or evenly, every
// [run] output_every. end_of_rain and end in seconds. Throws
// InputError for more than limits::output_rows.
OutputTimes plan_outputs(const site::RunOptions& options, double end_of_rain, double end);

} // namespace lowspot::results
