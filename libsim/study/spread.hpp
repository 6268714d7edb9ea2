// What a set of weighted draws says: quantiles, and which input the spread comes from.
#pragma once
#include <span>
#include <vector>

namespace lowspot::study {

// The value below which a share p of the weight lies, 0 <= p <= 1; between values interpolated, each standing
// for the middle of its own weight (for equal weights Hazen 1914). Not a number without positive weight.
double weighted_quantile(std::span<const double> values, std::span<const double> weights, double p);

// Whether that quantile is but the least that it can be: one of the values that had not ended (`open`, one a
// value) has a part in it, so that it would be more if that value were.
bool quantile_is_open(std::span<const double> values, std::span<const char> open,
                      std::span<const double> weights, double p);

// Ranks from 1; equal values share the mean of their ranks.
std::vector<double> ranks(std::span<const double> values);

// What one input has to do with a result.
struct InputShare {
  double share = 0;   // of the variance of the ranks of the result, 0..1; all of them and what is left are 1
  double partial = 0; // partial rank correlation, -1..1: which way the result goes, the others held
};
// Weighted regression of the ranks of the result on the ranks of all inputs (Iman and Conover 1979; Saltelli
// et al. 2008). The share is the coefficient times the correlation (Pratt 1987), so that shares add up to the
// coefficient of determination even where draws are a little correlated; a share below 0 is round-off of the
// drawing and is 0. inputs: one list a draw. A result that does not vary has no shares.
std::vector<InputShare> shares_of_spread(const std::vector<std::vector<double>>& inputs,
                                         std::span<const double> result, std::span<const double> weights);

// Kish's effective number of equal draws: (sum w)^2 / sum w^2.
double effective_draws(std::span<const double> weights);

} // namespace lowspot::study
