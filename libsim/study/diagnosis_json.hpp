// A diagnosis as scripts read it.
#pragma once
#include <string>

#include <lowspot/study/diagnosis.hpp>

namespace lowspot::study {

// JSON text, SI units named in the keys (see README.md of this layer); a number that is not finite becomes
// null.
std::string diagnosis_json(const Diagnosis& diagnosis);

} // namespace lowspot::study
