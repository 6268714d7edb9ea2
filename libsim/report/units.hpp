// Quantities as people read them: the site's units, sensibly rounded.
#pragma once
#include <string>

namespace lowspot::report {

// A unit on paper.
struct Unit {
  double si = 1;    // what one of it is in SI
  std::string name; // as written after a figure
  double of(double value) const { return value / si; }
};
// Units on paper for a site in feet or in metres.
struct Units {
  bool metric = false; // metres rather than feet
  Unit depth;          // of water
  Unit length;         // on the ground
  Unit elevation;      // over the datum of the site
  Unit area;           // of ground
  Unit volume;         // of water or earth
  Unit flow;           // of water
  Unit rain;           // rate of rain
};
Units units_for(const std::string& site_units); // "ft" or "m"

// "3.4 in", at most `digits` significant digits, thousands set apart; "none" for zero and a dash for what is
// not finite.
std::string amount(double value, const Unit& unit, int digits = 2);
// As amount(), without the unit's name: for tables whose head names it. Zero is "0".
std::string figure(double value, const Unit& unit, int digits = 2);
// With a fixed number of decimals, as elevations are written.
std::string fixed(double value, int decimals);
std::string elevation_text(double value, const Units& units); // m in, "100.25 ft" out
// Hours rounded so as not to promise more than is known: "under 1 h", "4 h", "34 h", "5 days".
std::string hours_text(double hours);
// Hours that go on beyond the end of the run where `open`: "over 4 h", and where they are less than an hour,
// which "over" says nothing of, the words for what still is so.
std::string open_hours_text(double hours, bool open,
                            const std::string& at_the_end = "still standing at the end");
double rounded_hours(double hours);
std::string percent(double share); // 0.4 -> "40 %"
// "2 h 30 min" from seconds.
std::string clock_text(double seconds);

} // namespace lowspot::report
