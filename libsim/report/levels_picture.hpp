// The picture of a survey: shots, triangles, contours, doubt, what looks wrong and what to shoot next.
#pragma once
#include <filesystem>
#include <vector>

#include <lowspot/report/paint.hpp>
#include <lowspot/report/scale.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/level_review.hpp>

namespace lowspot::report {

// Classes of doubt in inches or millimetres, from light to dark.
Scale doubt_scale(const Field& doubt, const Units& units);

// Shots that are named in the picture: a point that was read twice is named once.
std::vector<terrain::Shot> shots_to_name(const terrain::LevelReview& review);

// Width and height of the picture [points].
Size levels_sheet_size(const terrain::LevelReview& review, const site::Site& site);
// With its top left corner at the origin; the same for PNG and PDF.
void draw_levels_sheet(cairo_t* context, const terrain::LevelReview& review, const site::Site& site);

// Writes levels.png, levels.pdf and levels_reduced.csv into a folder that is made when missing. Throws
// InputError when they cannot be written.
void write_levels(const terrain::LevelReview& review, const site::Site& site,
                  const std::filesystem::path& folder);

} // namespace lowspot::report
