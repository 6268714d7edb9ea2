#include <lowspot/results/bed_change.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/text.hpp>

namespace lowspot::results {
namespace {
constexpr double hardly = 0.001; // m

std::string percent_of(double part, double whole) {
  return rounded(100 * part / whole, 2) + " %";
}
} // namespace

BedChange bed_change(const BedBudget& before, const BedBudget& after) {
  BedChange change;
  change.run_on = after.run_on - before.run_on;
  change.perched = (after.lateral - after.to_drain) - (before.lateral - before.to_drain);
  change.supply = (after.rain - before.rain) + change.run_on + change.perched;
  change.drunk = after.drunk - before.drunk;
  change.leaked = after.leaked - before.leaked;
  return change;
}

std::string why_sentence(const BedBudget& before, const BedBudget& after) {
  const BedChange change = bed_change(before, after);
  const double had = std::abs(before.rain + before.run_on) + std::max(0.0, before.lateral - before.to_drain);
  if (std::abs(change.supply) < std::max(hardly, 0.02 * had)) return "";
  const bool less = change.supply < 0;
  std::string text = less ? "It gets less water" : "It gets more water";
  if (had > hardly && std::abs(change.supply) < had)
    text += ", by " + percent_of(std::abs(change.supply), had);
  const double run_on = less ? -change.run_on : change.run_on,
               perched = less ? -change.perched : change.perched;
  const double both = std::max(0.0, run_on) + std::max(0.0, perched);
  if (both <= 0) return text + ".";
  const std::string by_run_on =
      less ? "because water that ran on to it goes elsewhere" : "because more water runs on to it";
  const std::string by_perched = less ? "because the ground around it holds less water or a trench takes it"
                                      : "because more comes along the tight layer";
  if (run_on > 0.98 * both) return text + ", " + by_run_on + ".";
  if (perched > 0.98 * both) return text + ", " + by_perched + ".";
  return text + ": " + percent_of(run_on, both) + " of that " + by_run_on + ", " + percent_of(perched, both) +
         " " + by_perched + ".";
}

} // namespace lowspot::results
