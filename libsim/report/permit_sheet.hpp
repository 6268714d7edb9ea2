// The sheet for the permit desk and the neighbours: areas, storm, water over each lot line, outlets, what was
// assumed and what is UNKNOWN.
#pragma once
#include <lowspot/report/sheet.hpp>

namespace lowspot::report {

// One sheet of paper for the permit desk, as a page.
std::string permit_sheet_html(const SheetScene& scene);

} // namespace lowspot::report
