// A diagnosis as tables and figures for a page.
#pragma once
#include <string>

#include <lowspot/report/html.hpp>
#include <lowspot/report/units.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/study/diagnosis.hpp>

namespace lowspot::report {

// Low spots with their size, spill and the rain that fills them; at most `most` rows.
Table low_spot_table(const study::Diagnosis& diagnosis, const Units& units, std::size_t most = 12);
// What sheds to each: ground by cover and roofs.
Table catchment_table(const study::Diagnosis& diagnosis, const Units& units, std::size_t most = 12);
// The basins within low spots that have several, in the order in which they fill; without rows where none
// has.
Table basin_table(const study::Diagnosis& diagnosis, const Units& units, std::size_t most = 24);
// Outlets of each low spot and of each design's head.
Table outlet_table(const study::Diagnosis& diagnosis, const Units& units);

// A map that travels inside the page, with its caption.
std::string diagnosis_figure(const study::Diagnosis& diagnosis, const std::string& picture);
// Tables of low spots and of what sheds to them, with the note on how the rain was worked out.
std::string low_spots_html(const study::Diagnosis& diagnosis, const Units& units);
// Outlets in reach, with the note on the rules.
std::string outlets_html(const site::Site& site, const study::Diagnosis& diagnosis, const Units& units);

} // namespace lowspot::report
