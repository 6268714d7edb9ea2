// The take-off: what a design needs, net and as ordered, and what it costs at the user's own prices.
#pragma once
#include <limits>
#include <string>
#include <vector>

#include <lowspot/job/cut_sheet.hpp>

namespace lowspot::job {

// No price is known.
constexpr double unpriced = std::numeric_limits<double>::quiet_NaN();

// What a quantity counts.
enum class Measure { length, area, volume, count, time };

// One item of the take-off.
struct TakeoffLine {
  std::string item;                 // what it is, as a rate names it
  std::string group;                // "pipe", "stone", ...
  Measure measure = Measure::count; // what `net` and `ordered` count
  double net = 0;                   // in place: m, m2, m3, pieces or s
  double ordered = 0;               // with waste, laps and swell
  std::string allowance;            // what was added: "8 % waste", "25 % swell"
  double mass = 0;                  // kg as ordered, 0 where nobody weighs it
  double loads = 0;                 // truckloads, 0 where none
  double price = unpriced;          // of one unit
  std::string per;                  // that unit
  double cost = unpriced;           // of what is ordered, in Ordering::currency; not a number without a price
};

// All that a design needs, with what it costs.
struct Takeoff {
  std::string design;             // its name
  std::vector<TakeoffLine> lines; // one an item
  double cost = 0;                // of the lines that have a price
  int without_price = 0;          // lines
  std::vector<std::string> notes; // sentences
};

// Quantities of a design. Rates are taken by the name of the line's item, capitals aside. Throws InputError
// for a rate whose unit does not measure its item, and for one that names nothing in any design of the site;
// where one of these cannot be built, a note says so instead. An item that is too little to be listed is one
// that a rate may name.
Takeoff take_off(const site::Site& site, const site::Design& design, const terrain::Ground& ground);

// Plan area of the lawn lifted over a trench and laid back, a margin on either side included [m2].
double sod_area(const site::Site& site, const site::Run& run);

} // namespace lowspot::job
