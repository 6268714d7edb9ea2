// The report as one page.
#pragma once
#include <string>

#include <lowspot/report/page.hpp>

namespace lowspot::report {

// A page that needs nothing but itself: pictures, style and script inside, no network. Every name is escaped.
std::string report_html(const Page& page);

} // namespace lowspot::report
