// A hose test in plain words.
#pragma once
#include <string>

#include <lowspot/study/hose_test.hpp>

namespace lowspot::study {

// Fills HoseTest::says and HoseTest::proves from its figures, in the site's units.
void describe_hose_test(const site::Site& site, HoseTest& test);

// Where water is watched for: "the outlet"; of several "the outlet 'X'" where water comes out of one alone,
// else "the outlets".
std::string outlet_words(const HoseTest& test);

} // namespace lowspot::study
