// A search among the combinations of [tune], as JSON for scripts. SI throughout.
#pragma once
#include <string>

#include <lowspot/study/tune.hpp>

namespace lowspot::study {

// sentence: the answer in words. Nothing in it depends on how many runs went side by side, nor on how many
// were found in a journal, but the counts under "runs".
std::string tune_json(const Tuning& tuning, const std::string& sentence);

} // namespace lowspot::study
