// Bands of standing hours as bars from P10 to P90, a row a place and design.
#pragma once
#include <string>

#include <lowspot/report/page.hpp>

namespace lowspot::report {

// A figure with its caption; empty where nothing stands anywhere. The scale is logarithmic in hours, since
// soils differ by factors.
std::string band_chart(const Page& page, const results::PlausibleStudy& study);

} // namespace lowspot::report
