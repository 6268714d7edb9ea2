// The one or two figures about a design that a reader looks for first.
#pragma once
#include <string>

#include <lowspot/report/units.hpp>
#include <lowspot/results/record.hpp>

namespace lowspot::report {

// The judged area that stands longest (or any, when none is judged); null when there are no areas.
const results::AreaRecord* slowest_area(const results::DesignRecord& design);
const results::AreaRecord* deepest_area(const results::DesignRecord& design);
// "34 h", or "over 160 h" when water still stood at the end; "still standing at the end" of a run that ended
// within an hour.
std::string standing_text(const results::AreaRecord& area);
// The same beside a target [s]: hours that miss it but read as if they kept it are "just over 24 h".
std::string judged_hours(double hours, bool still, double clear_within);
// Caption under a panel: "long bed stands 34 h after the rain".
std::string hours_caption(const results::DesignRecord& design);
std::string depth_caption(const results::DesignRecord& design, const Units& units);
// What soggy_text() says of firm ground, and of ground that a run left within an hour.
inline constexpr const char *not_soggy = "not soggy", *still_soggy = "still soggy at the end";
// "34 h", or "over 160 h" when the ground was still soggy at the end; else as above.
std::string soggy_text(const results::AreaRecord& area);
// The place that stays soggy longest, a slab said as one: "under patio the soil stays full for 60 h after the
// rain".
std::string soggy_caption(const results::DesignRecord& design);
std::string perched_caption(const results::DesignRecord& design, const Units& units);
// "empty 30 h after the rain", "still 40 % full when the simulated time ends, 96 h after the rain": of a dry
// well or rain garden of this name, as its check found it. Empty: not known.
std::string emptied_text(const results::DesignRecord& design, const std::string& name);

} // namespace lowspot::report
