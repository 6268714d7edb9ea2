// What storms of every size do, before and after: chart and table on a page of its own.
#pragma once
#include <string>

#include <lowspot/site/site.hpp>
#include <lowspot/study/storms.hpp>

namespace lowspot::report {

// The page of a study of storms.
std::string storms_html(const study::StormStudy& study, const site::Site& site, const std::string& version);

} // namespace lowspot::report
