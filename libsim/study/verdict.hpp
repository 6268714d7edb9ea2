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

// "about 60 hours", "less than an hour", or "only while it rains" where nothing stands when the rain ends:
// hours after the rain as people say them.
std::string plain_hours(double hours);
// The same with " after the rain" behind it, where there are hours: "about 60 hours after the rain".
std::string hours_after_rain(double hours);
// The same of what may not have ended with the simulated time (open): "more than about 4 days"; "as long as
// it is followed" where the run ends with the rain or before it.
std::string hours_at_least(double hours, bool open);

// "about 4 hours to about 6 hours", "about 6 hours" where both are said alike, "up to about 6 hours" where
// the lower stands only while it rains. open: the upper is not the end of it, "about 4 hours to more than 6
// hours".
std::string hours_between(double low, double high, bool open = false);

// A place as a sentence names it: an area in quotes, "the wettest spot" without.
std::string place_name(const std::string& place);

} // namespace lowspot::study
