// The printed pages and the tables for the work, for the design that a comparison ends in.
#pragma once
#include <filesystem>

#include <lowspot/results/record.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::report {

// Writes homeowner.html and permit.html, and for what is proposed (see sheet_design()) crew.html,
// cutsheet.html, cutsheet.csv, takeoff.html and takeoff.csv into an existing folder. Files of an earlier run
// that no longer hold are removed. The comparison must have been made from this site and ground. Throws
// InputError when they cannot be written or the design cannot be built.
void write_sheets(const site::Site& site, const terrain::Ground& ground,
                  const results::Comparison& comparison, const std::filesystem::path& folder);

// Takes away the pages of the works that an earlier run left, where nothing is proposed any more.
void remove_works(const std::filesystem::path& folder);

} // namespace lowspot::report
