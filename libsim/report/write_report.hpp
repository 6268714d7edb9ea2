// Pictures and report of a comparison, for people.
#pragma once
#include <filesystem>

#include <lowspot/results/record.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/study/diagnosis.hpp>

namespace lowspot::report {

// Writes maps/ and report.html into the folder, each file whole or not at all; with a diagnosis also its map.
// The comparison must have been made from this site. Throws InputError when the folder cannot be used or
// holds another site's results (see results::prepare_output_folder), std::invalid_argument when maps do not
// fit the grid.
void write_report(const site::Site& site, const results::Comparison& comparison,
                  const std::filesystem::path& folder, bool overwrite = false,
                  const study::Diagnosis* diagnosis = nullptr);

} // namespace lowspot::report
