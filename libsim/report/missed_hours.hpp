// Hours beyond what was agreed, as the tables write them.
#pragma once
#include <string>

namespace lowspot::report {

// As hours_text(); hours that miss a limit which reads the same are "just over 24 h".
std::string missed_hours(double hours, double limit);

} // namespace lowspot::report
