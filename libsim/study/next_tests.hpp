// Which test on the site would narrow an answer, by how much, for how much work.
#pragma once
#include <vector>

#include <lowspot/results/plausible_record.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/study/draws.hpp>

namespace lowspot::study {

// One test an input, the least work first. answer_factor: P90 over P50 of the answer's hours, roughly the
// root of P90 over P10; shares: of its spread, one an input. A test that leaves a share r of the logarithm of
// an input's band takes share (1 - r^2) of the variance off the logarithm of the answer. The cheapest that
// does at least half of what the best does, and narrows the logarithm by 5 % or more, is marked as the next.
std::vector<results::NextTest> next_tests(const site::Site& site, const std::vector<UncertainInput>& inputs,
                                          const std::vector<results::SpreadShare>& shares,
                                          double answer_factor);

} // namespace lowspot::study
