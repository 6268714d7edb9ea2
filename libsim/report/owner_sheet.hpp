// The sheet for the owner: what was found, what is proposed, what to expect, what it does not do, upkeep.
#pragma once
#include <lowspot/report/sheet.hpp>

namespace lowspot::report {

// One sheet of paper for the owner, as a page.
std::string owner_sheet_html(const SheetScene& scene);

} // namespace lowspot::report
