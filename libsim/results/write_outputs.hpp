// Writes the files that scripts and viewers read.
#pragma once
#include <filesystem>

#include <lowspot/results/record.hpp>

namespace lowspot::results {

// Writes summary.json, hydrographs.csv and results.nc into the folder, each whole or not at all; the summary
// comes last, so that where it stands the others do too. Throws InputError when the folder cannot be used,
// see prepare_output_folder().
void write_outputs(const Comparison& comparison, const std::filesystem::path& folder, bool overwrite = false);

} // namespace lowspot::results
