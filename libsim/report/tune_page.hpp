// The page and the table of a search among the combinations of [tune].
#pragma once
#include <filesystem>
#include <string>

#include <lowspot/site/site.hpp>
#include <lowspot/study/tune.hpp>

namespace lowspot::report {

// One page that opens from disk: the answer, the curve, what each step buys, what stops the others, every
// combination in a table, and how it was found.
std::string tune_html(const site::Site& site, const study::Tuning& tuning);
// A row a combination, smallest first; SI, units in the heads.
std::string tune_csv(const study::Tuning& tuning);
// tune.html, tune.csv and tune.json in a folder that is there.
void write_tuning(const site::Site& site, const study::Tuning& tuning, const std::filesystem::path& folder);

} // namespace lowspot::report
