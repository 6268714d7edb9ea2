// How far each plausible soil fits what was seen.
#pragma once
#include <string>
#include <vector>

#include <lowspot/results/plausible_record.hpp>

namespace lowspot::study {

// A place that was seen wet is followed for so many times as long: enough to tell that a soil does not fit.
constexpr double seen_followed = 4;

// One weight a draw, mean 1: the product over all that was seen of exp(-(ln(simulated / seen) / ln 1.5)^2 /
// 2), hours under half an hour taken as that. Where not even the best draw comes within three times that
// scatter, none of the soils explains what was seen: the weights stay equal, and a note says so.
std::vector<double> weigh_by_seen(const std::vector<results::PlausibleSeen>& seen, int draws,
                                  std::vector<std::string>& notes);

} // namespace lowspot::study
