// Limits that a design does not keep, said before anything else on the pages that it is built from.
#pragma once
#include <string>
#include <vector>

#include <lowspot/report/sheet.hpp>
#include <lowspot/results/check_record.hpp>

namespace lowspot::report {

// "2 limits are not kept by this design:" and each of `not_kept` with what was found, so many letters of it,
// and the limit; no more than `most` of them. Empty where all are kept. `page` has them all.
std::string limits_alert(const std::vector<results::CheckRecord>& not_kept, std::size_t most,
                         std::size_t letters, const std::string& page);
// Those of the design that a sheet is about.
std::string limits_alert(const SheetScene& scene);
// Lines that the latter takes on the page.
std::size_t limits_lines(const SheetScene& scene);

} // namespace lowspot::report
