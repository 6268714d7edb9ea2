// The test at hand-over on a page of its own: what to expect, with room to write in what was found.
#pragma once
#include <string>

#include <lowspot/site/site.hpp>
#include <lowspot/study/hose_test.hpp>

namespace lowspot::report {

// The page of a hose test.
std::string hose_html(const study::HoseTest& test, const site::Site& site, const std::string& version);

} // namespace lowspot::report
