// summary.json: the figures that scripts read.
#pragma once
#include <string>

#include <lowspot/results/record.hpp>

namespace lowspot::results {

// The comparison as JSON text, SI units named in the keys; a number that is not finite becomes null.
std::string summary_json(const Comparison& comparison);

} // namespace lowspot::results
