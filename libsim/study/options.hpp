// Every way to deal with the yard in one ranked table, doing nothing among them.
#pragma once
#include <vector>

#include <lowspot/results/option_record.hpp>
#include <lowspot/results/record.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::study {

// One row a design of the comparison, whose first is the yard as it is. Those that keep all that was agreed
// come first, before all those whose works keep every limit, then the others; within each by cost where they
// are priced_alike(), else by what is dug, and of the same by how long water stands. Designs are found in the
// site by name. Throws InputError as take_off().
std::vector<results::OptionRecord> rank_options(const site::Site& site, const terrain::Ground& ground,
                                                const results::Comparison& comparison);

// Whether costs can be held against each other: every option has one, and as many items without a price are
// left out of each that costs anything. A sum that leaves out a pump is no cheaper than one that has it.
bool priced_alike(const std::vector<results::OptionRecord>& options);

} // namespace lowspot::study
