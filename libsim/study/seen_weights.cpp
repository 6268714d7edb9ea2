#include <lowspot/study/seen_weights.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>

#include <lowspot/base/text.hpp>
#include <lowspot/study/spread.hpp>
#include <lowspot/study/verdict.hpp>

namespace lowspot::study {

std::vector<double> weigh_by_seen(const std::vector<results::PlausibleSeen>& seen, int draws,
                                  std::vector<std::string>& notes) {
  constexpr double shortest = 0.5; // h
  const double scatter = std::log(1.5);
  std::vector<double> weights(draws, 1.0);
  if (seen.empty()) return weights;
  std::vector<double> misfit(draws, 0.0);
  for (const results::PlausibleSeen& one : seen) {
    double nearest = 1e300, hours = 0;
    for (int k = 0; k < draws; ++k) {
      const double off =
          std::log(std::max(one.simulated[k], shortest) / std::max(one.hours, shortest)) / scatter;
      misfit[k] += off * off;
      if (std::abs(off) < nearest) nearest = std::abs(off), hours = one.simulated[k];
    }
    if (nearest > 3)
      notes.push_back("No soil within the bands makes '" + one.name + "' stand " + plain_hours(one.hours) +
                      (one.hours > 0 ? " after its rain" : "") + ", as was seen; the nearest makes it " +
                      (hours >= 0.99 * seen_followed * one.hours ? "more than " : "") + plain_hours(hours) +
                      ". Look again at the bands, at the ground, or for water other than rain.");
  }
  const double best = *std::min_element(misfit.begin(), misfit.end());
  if (best > 9 * static_cast<double>(seen.size())) {
    notes.emplace_back("No plausible soil explains what was seen, so all were given the same weight.");
    return weights;
  }
  for (int k = 0; k < draws; ++k) weights[k] = std::exp(-0.5 * (misfit[k] - best));
  const double mean = std::accumulate(weights.begin(), weights.end(), 0.0) / draws;
  for (double& weight : weights) weight /= mean;
  const double effective = effective_draws(weights);
  notes.push_back("Soils that fit what was seen count for more: the " + std::to_string(draws) +
                  " draws say as much as " + rounded(effective, 2) + " of equal weight.");
  if (effective < 5)
    notes.emplace_back("So few draws carry nearly all the weight that the band is rough: ask for more draws "
                       "(--plausible), or narrow the bands in the site file.");
  return weights;
}

} // namespace lowspot::study
