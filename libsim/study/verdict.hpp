// The answer in plain words.
#pragma once
#include <string>

#include <lowspot/results/record.hpp>

namespace lowspot::study {

// Recommends the first design in the order of the site file that keeps all that was agreed, so designs should
// be listed from the cheapest to the dearest; when none does, the one that stands shortest. Says first which
// limits its works do not keep (limits_not_kept.hpp), then what limits it.
results::Verdict make_verdict(const results::Comparison& comparison);

// What held the drain back for most hours over all its runs: "cap", "fabric", "stone", "slots", "pipe",
// "outlet" or "nothing".
std::string limiting_member(const results::DesignRecord& design);

// "about 60 hours", "less than an hour", "no time at all": hours as people say them.
std::string plain_hours(double hours);

} // namespace lowspot::study
