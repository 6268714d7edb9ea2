// What codes and practice ask for and a design does not keep, as a person is told it.
#pragma once
#include <string>
#include <vector>

#include <lowspot/results/record.hpp>

namespace lowspot::study {

// The limits that works do not keep, the most serious first. What the yard brings with it and the works leave
// as it was (the same found in `before`, the checks of the yard as it is) is none of theirs.
std::vector<results::CheckRecord> limits_not_kept(const std::vector<results::CheckRecord>& before,
                                                  const std::vector<results::CheckRecord>& after);
// The same of a design of a comparison, whose first design is the yard as it is.
std::vector<results::CheckRecord> limits_not_kept(const results::Comparison& comparison,
                                                  const results::DesignRecord& design);

// Outlets that end in the ground at the limit of what is computed: whether anything runs out of them hangs on
// ground that nobody shot.
std::vector<results::CheckRecord> buried_ends(const results::DesignRecord& design);

// "Depth of the trench (main)".
std::string limit_name(const results::CheckRecord& check);
// "2 limits are not kept, the most serious: Depth of the trench (main)"; empty where all are kept. Every
// place that says a design does what was agreed says this with it.
std::string not_kept_words(const std::vector<results::CheckRecord>& not_kept);

} // namespace lowspot::study
