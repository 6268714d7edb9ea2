// A year later on one page to print: what was promised for the rain that fell, what was seen, and what to
// check.
#pragma once
#include <string>

#include <lowspot/site/site.hpp>
#include <lowspot/study/year_later.hpp>

namespace lowspot::report {

// The page of an answer to its question, for the contractor who comes back and for the owner.
std::string year_later_html(const study::YearLater& answer, const study::YearLaterQuestion& question,
                            const site::Site& site, const std::string& version);

} // namespace lowspot::report
