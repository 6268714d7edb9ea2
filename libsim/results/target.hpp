// Whether a design does what was agreed with the owner: water gone in time, beds neither drowned nor thirsty.
#pragma once
#include <string>
#include <vector>

#include <lowspot/results/record.hpp>

namespace lowspot::results {

// What an owner may be promised: water gone in time, roots not in full ground too long, beds not dry too
// long.
enum class Promise { standing, soggy_bed, dry_bed };

// One promise about one place. All times in s, so that they can be set side by side.
struct Judged {
  Promise promise = Promise::standing; // which promise
  std::string place;                   // the area or bed
  double found = 0, limit = 0;         // s
  bool open_ended = false;             // still so when the simulated time ended: `found` is at least this
  bool kept = true;                    // found is within the limit
};

// How long water stands in one place after the rain, and whether it is gone in time.
struct Standing {
  std::string place;  // the area, or "the wettest spot"
  double hours = 0;   // h after the rain
  bool still = false; // when the simulated time ends: `hours` is then but the least that it can be
  bool met = true;    // gone within the target; what still stands when the simulated time ends is not
};

// Of each judged area, in the order of the site file; where none is judged, of the wettest spot of the yard.
// Never empty: a yard without areas is judged as well. All times in s.
std::vector<Standing> standing_of(const DesignRecord& design, double clear_within, double end_of_rain);
// The one that stands longest, before all others one that still does.
Standing longest_standing(const DesignRecord& design, double clear_within, double end_of_rain);
// Whether water is gone in time everywhere, whatever the beds say.
bool clears(const DesignRecord& design, double clear_within, double end_of_rain);

// Every promise of the target, for a design of the comparison (designs.front() is the yard as it is): each
// judged area clears in time (the wettest spot of the yard where no area is judged), each bed keeps to the
// soggy hours, and to the dry days, in all or beyond those of the yard as it is. Dry days are those of the
// dry spell of a season where there is one, and count to a tenth of a day, finer than what is known. What the
// simulated time is too short to show is not kept: a bed that is still soggy when it ends, and without a
// season one that has dried in a run shorter than the time agreed.
std::vector<Judged> judge(const Comparison& all, const DesignRecord& design);
// Those not kept.
std::vector<Judged> misses(const Comparison& all, const DesignRecord& design);
bool meets_target(const Comparison& all, const DesignRecord& design);

// Hours after rain of the judged area that stands longest, or of the wettest spot where none is judged.
double longest_standing_hours(const DesignRecord& design, double end_of_rain);
// From the end of the rain to the last moment that any ground stood deeper than the target depth [h], as an
// area is judged: water that comes back counts to its end. Figures read back from text have it in
// `standing_hours`.
double wettest_spot_hours(const DesignRecord& design, double end_of_rain);

} // namespace lowspot::results
