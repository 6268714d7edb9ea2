// The storm in words: the one that was asked for, and those that follow it.
#pragma once
#include <string>

#include <lowspot/report/units.hpp>
#include <lowspot/results/record.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::report {

// "2.6 in of rain in 6 h": the storm itself, without those that follow it. What a return period is said of.
std::string storm_words(const site::Site& site, const results::Comparison& all, const Units& units);
// ", then 1 in in 3 h after 36 h without rain"; empty where nothing follows.
std::string later_storms_words(const site::Site& site, const Units& units);

} // namespace lowspot::report
