// What a change of a bed's water is made of.
#pragma once
#include <string>

#include <lowspot/results/record.hpp>

namespace lowspot::results {

// After minus before, mean over the bed [m]. supply = rain + run_on + perched, where rain is that past the
// leaves: nearly the same in both runs, but not quite, since leaves dry in steps of other lengths. What the
// bed lacks it drinks less, leaks less or has less of at the end.
struct BedChange {
  double supply = 0;            // all that reached it [m]
  double run_on = 0;            // diverted (negative) or sent here
  double perched = 0;           // along the tight layer, trench walls included
  double drunk = 0, leaked = 0; // by plants, through the tight layer [m]
};
// Of the same bed, as it is and with a design.
BedChange bed_change(const BedBudget& before, const BedBudget& after);

// "three quarters less: nine tenths of that because run-on goes elsewhere, ..." - why a bed gets more or less
// water, in a sentence; empty when hardly anything changes (less than 2 % of what it got and less than 1 mm).
std::string why_sentence(const BedBudget& before, const BedBudget& after);

} // namespace lowspot::results
