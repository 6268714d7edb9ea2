// Rain as a gauge wrote it down.
#pragma once
#include <filesystem>

#include <lowspot/rain/hyetograph.hpp>

namespace lowspot::rain {

// A table with a time column and a depth column; each label is the start of its interval, or its
// end where the column says so (time_end, until): a gauge read by hand, where each reading is what fell since
// the one before. A column named cumulative_mm holds all that had fallen so far; where it loses more than
// half it began again, and where it falls by less no rain is taken until it is above what it had reached.
// Time: seconds, minutes or hours by the name of the column (time_s, time_min, time_h), or dates as
// time_label() reads them. Depth: by the unit in the name of the column, or with its unit in each cell. What
// may well be meant otherwise (gaps, uneven times, rows that only rise, rain beyond what is known) is told in
// the warnings. Throws InputError with file and line.
Hyetograph read_gauge(const std::filesystem::path& path);

} // namespace lowspot::rain
