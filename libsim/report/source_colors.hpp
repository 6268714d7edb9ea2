// One colour a source of water, the same in every chart and map, told apart by every common colour vision.
#pragma once
#include <vector>

#include <lowspot/report/color.hpp>
#include <lowspot/results/share_record.hpp>

namespace lowspot::report {

// One a source: roofs warm, rain on areas cool, others grey, brown and purple; neighbours in the list differ
// in lightness, so that a grey print keeps them apart.
std::vector<Rgb> source_colors(const results::SourceShares& shares);

// Black or white, whichever reads better on a colour.
Rgb ink_on(const Rgb& color);

} // namespace lowspot::report
