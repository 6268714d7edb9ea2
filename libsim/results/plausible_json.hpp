// The band of an answer for scripts.
#pragma once
#include <nlohmann/json_fwd.hpp>

#include <lowspot/results/plausible_record.hpp>

namespace lowspot::results {

// Null where no draws were made. SI; lists by draw are in the order of the draws, lists by input in that of
// inputs[].
nlohmann::ordered_json plausible_json(const PlausibleStudy& study);

} // namespace lowspot::results
