#include <lowspot/study/as_dug.hpp>

#include <utility>

#include <lowspot/results/target.hpp>
#include <lowspot/study/compare.hpp>
#include <lowspot/study/verdict.hpp>

namespace lowspot::study {

AsDugCost cost_of_digging(const site::Site& site, const terrain::Ground& ground, const site::Design& designed,
                          const site::Design& dug, const std::string& version,
                          const std::function<void(double share)>& progress, int threads) {
  site::Site both = site;
  both.designs = {designed, dug};
  both.designs[0].name = "designed";
  both.designs[1].name = "dug";
  CompareOptions options;
  options.version = version;
  options.threads = threads;
  options.progress = [&](double share) {
    if (progress) progress(share);
    return true;
  };
  const results::Comparison comparison = compare(both, ground, options);
  AsDugCost cost;
  const results::DesignRecord& as_designed = comparison.designs[1];
  const results::DesignRecord& as_dug = comparison.designs[2];
  cost.designed_clears = results::clears(as_designed, comparison.clear_within, comparison.end_of_rain);
  cost.dug_clears = results::clears(as_dug, comparison.clear_within, comparison.end_of_rain);
  const std::vector<results::Standing> before =
      results::standing_of(as_designed, comparison.clear_within, comparison.end_of_rain);
  const std::vector<results::Standing> after =
      results::standing_of(as_dug, comparison.clear_within, comparison.end_of_rain);
  std::pair<bool, double> worst(false, -1e300);
  for (std::size_t k = 0; k < before.size(); ++k) {
    // What stands to the end where it did not as designed is worse than any number of hours.
    const std::pair more(after[k].still && !before[k].still, after[k].hours - before[k].hours);
    if (more <= worst) continue;
    worst = more;
    cost.area = before[k].place;
    cost.hours_designed = before[k].hours;
    cost.hours_dug = after[k].hours;
    cost.designed_still = before[k].still;
    cost.dug_still = after[k].still;
  }
  return cost;
}

std::string sentence(const AsDugCost& cost) {
  const std::string place = place_name(cost.area);
  if (cost.designed_still && cost.dug_still)
    return "Run with the trench as dug and as designed, " + place +
           " still stands when the simulated time ends: what the difference costs does not show.";
  const double more = cost.hours_dug - cost.hours_designed;
  // Less than a quarter of an hour is within what cells and steps leave uncertain.
  if (more < 0.25 && !cost.dug_still)
    return cost.dug_clears || !cost.designed_clears
               ? "Run with the trench as dug, water stands no longer than as designed."
               : "Run with the trench as dug, the target is just missed.";
  std::string text = "Run with the trench as dug, " + place;
  text += cost.dug_still ? " still stands when the simulated time ends; as designed it stands " +
                               hours_after_rain(cost.hours_designed)
                         : " stands " + hours_after_rain(cost.hours_dug) + " instead of " +
                               plain_hours(cost.hours_designed);
  if (cost.designed_clears && !cost.dug_clears) return text + ": the target is missed. Put the trench right.";
  return text + (cost.dug_clears ? "; the target is still met." : ".");
}

} // namespace lowspot::study
