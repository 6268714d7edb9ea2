// Rain as a gauge wrote it down.
#pragma once
#include <filesystem>

#include <lowspot/rain/hyetograph.hpp>

namespace lowspot::rain {

// A table with a time column and a depth column; each label is the start of its interval, or its
// end where the column says so (time_end, until): a gauge read by hand, where each reading is what fell since
// the one before. Time: seconds,
// minutes or hours by the column's name (time_s, time_min, time_h), or dates like "2016-07-10 00:05". Depth:
// millimetres or inches by the column's name, or with its unit in each cell. Throws InputError with file and
// line.
Hyetograph read_gauge(const std::filesystem::path& path);

} // namespace lowspot::rain
