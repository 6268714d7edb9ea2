// What a check found, in the units of the page it stands on.
#pragma once
#include <string>

#include <lowspot/report/page.hpp>
#include <lowspot/results/check_record.hpp>

namespace lowspot::report {

// As the check says it; what leaves over a side in the units in which the page's tables say the same water.
std::string check_found(const results::CheckRecord& check, const results::DesignRecord& design,
                        const results::Comparison& all, const site::Site& site);

} // namespace lowspot::report
