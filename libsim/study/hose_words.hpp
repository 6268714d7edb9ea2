// A hose test in plain words.
#pragma once
#include <lowspot/study/hose_test.hpp>

namespace lowspot::study {

// Fills HoseTest::says and HoseTest::proves from its figures, in the site's units.
void describe_hose_test(const site::Site& site, HoseTest& test);

} // namespace lowspot::study
