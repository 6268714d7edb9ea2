#include <lowspot/study/as_dug.hpp>

#include <algorithm>

#include <lowspot/study/compare.hpp>
#include <lowspot/study/verdict.hpp>

namespace lowspot::study {

AsDugCost cost_of_digging(const site::Site& site, const terrain::Ground& ground, const site::Design& designed,
                          const site::Design& dug, const std::string& version,
                          const std::function<void(double share)>& progress) {
  site::Site both = site;
  both.designs = {designed, dug};
  both.designs[0].name = "designed";
  both.designs[1].name = "dug";
  CompareOptions options;
  options.version = version;
  options.progress = [&](double share) {
    if (progress) progress(share);
    return true;
  };
  const results::Comparison comparison = compare(both, ground, options);
  AsDugCost cost;
  cost.designed_clears = cost.dug_clears = true;
  double worst = -1e300;
  const std::vector<results::AreaRecord>& before = comparison.designs[1].areas;
  const std::vector<results::AreaRecord>& after = comparison.designs[2].areas;
  for (std::size_t k = 0; k < before.size(); ++k) {
    if (!before[k].judged) continue;
    cost.designed_clears = cost.designed_clears && before[k].clear_within_target;
    cost.dug_clears = cost.dug_clears && after[k].clear_within_target;
    const double more = after[k].standing_hours_after_rain - before[k].standing_hours_after_rain;
    if (more <= worst) continue;
    worst = more;
    cost.area = before[k].name;
    cost.hours_designed = before[k].standing_hours_after_rain;
    cost.hours_dug = after[k].standing_hours_after_rain;
  }
  return cost;
}

std::string sentence(const AsDugCost& cost) {
  const double more = cost.hours_dug - cost.hours_designed;
  // Less than a quarter of an hour is within what cells and steps leave uncertain.
  if (more < 0.25)
    return cost.dug_clears || !cost.designed_clears
               ? "Run with the trench as dug, water stands no longer than as designed."
               : "Run with the trench as dug, the target is just missed.";
  std::string text = "Run with the trench as dug, '" + cost.area + "' stands " + plain_hours(cost.hours_dug) +
                     " after the rain instead of " + plain_hours(cost.hours_designed);
  if (cost.designed_clears && !cost.dug_clears) return text + ": the target is missed. Put the trench right.";
  return text + (cost.dug_clears ? "; the target is still met." : ".");
}

} // namespace lowspot::study
