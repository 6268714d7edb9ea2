// What the levels amount to, in words and as a table.
#pragma once
#include <string>

#include <lowspot/site/site.hpp>
#include <lowspot/terrain/level_review.hpp>

namespace lowspot::report {

// "1/8 in" or "3 mm": a small difference of height as it is read on a rule.
std::string small_height(double metres, const site::Site& site);

// The answer in one or two sentences: how the book closes, and what looks wrong.
std::string levels_sentence(const terrain::LevelReview& review, const site::Site& site);

// The reduced shots as a table that can itself be named as levels: point, x, y, elevation, note (in site
// units), adjusted_by, left_out_error, set_up, line, remark. Text that a spreadsheet would take for a formula
// is led by an apostrophe.
std::string reduced_csv(const terrain::LevelReview& review, const site::Site& site);

} // namespace lowspot::report
