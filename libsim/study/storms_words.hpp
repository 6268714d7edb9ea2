// A curve of hours against storms in a sentence, and for scripts.
#pragma once
#include <string>

#include <lowspot/study/storms.hpp>

namespace lowspot::study {

// "'3 in under soil' meets the target up to 3.4 in of rain, about the 12-year storm; beyond it, ..."
std::string storm_sentence(const StormCurve& curve, const StormStudy& study, const site::Site& site);
// "the 10-year storm" or "2.6 in of rain".
std::string storm_name(const StormLevel& level, const site::Site& site);
// How the runs were made, and how far that may be off.
std::string storms_method(const StormStudy& study, const site::Site& site);
// SI; numbers that are not finite are null.
std::string storms_json(const StormStudy& study, const std::string& site_name, const std::string& version);
// One row a storm and design.
std::string storms_csv(const StormStudy& study);

} // namespace lowspot::study
