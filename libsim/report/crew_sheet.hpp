// The sheet a crew takes into the yard: sketch, cuts, trench, materials, cautions. No theory.
#pragma once
#include <lowspot/report/sheet.hpp>

namespace lowspot::report {

// Stations close enough to dig by, yet few enough for the page [m]; the cut sheet proper has more.
job::CutSheet crew_cut_sheet(const site::Site& site, const site::Design& design,
                             const terrain::Ground& ground);
// Needs a design with its cut sheet and take-off.
std::string crew_sheet_html(const SheetScene& scene);

} // namespace lowspot::report
