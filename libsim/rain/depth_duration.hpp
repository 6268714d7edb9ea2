// Depth-duration-frequency tables.
#pragma once
#include <filesystem>
#include <vector>

#include <lowspot/base/error.hpp>
#include <lowspot/rain/nested.hpp>

namespace lowspot::rain {

// The column of one return period [years] of a table: either a plain one with a header such as
// "duration_min,rp_2yr,rp_10yr" (inches, or millimetres where a column name ends in _mm), or the point
// precipitation-frequency file of the US weather service, parsed by its labels. Return periods in between are
// interpolated in the logarithm of the period. Throws InputError with file and line; of a return period that
// the table does not cover it says where that was `asked` for.
DepthDuration read_depth_duration(const std::filesystem::path& path, double return_period,
                                  const Where& asked = {"", 0, "return_period"});

// The return periods that a table has columns for [years], rising. Throws as above.
std::vector<double> return_periods(const std::filesystem::path& path);

} // namespace lowspot::rain
