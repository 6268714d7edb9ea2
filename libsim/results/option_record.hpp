// One way to deal with the yard, beside the others: a row of the table of options.
#pragma once
#include <limits>
#include <string>
#include <vector>

namespace lowspot::results {

struct OptionEdge {                     // what leaves over one side of the yard
  std::string side;                     // "west", "east", "south" or "north"
  double peak_before = 0, peak = 0;     // m3/s, as the yard is and with this option
  double volume_before = 0, volume = 0; // m3
};
// What one way comes to.
struct OptionRecord {
  std::string name;                             // of the design, or "as is"
  bool works = false;                           // every promise is kept
  double standing_hours = 0;                    // of the judged area that stands longest
  bool still_standing = false;                  // some judged area does, at the end of the simulated time
  double soggy_hours = 0;                       // of the judged area that stays soggy longest
  bool still_soggy = false;                     // some judged area is, at the end of the simulated time
  double bed_soggy_hours = 0, bed_dry_days = 0; // of the bed that fares worst
  int beds = 0;                                 // how many there are
  std::vector<std::string> not_kept;            // promises, in words
  std::vector<OptionEdge> edges;                // of the outline
  double drained = 0;                           // m3 that run out of outlets, those in the yard included
  double dig_length = 0, dig_volume = 0, fill_volume = 0; // m, m3
  double cost = std::numeric_limits<double>::quiet_NaN(); // in the currency of the site; not a number: no
                                                          // price is known
  int without_price = 0;                                  // items, where there is a cost
  std::vector<std::string> upkeep;                        // what it asks for, a phrase each
};

} // namespace lowspot::results
