// Hours beyond what was agreed, in words that a reader can tell from the limit itself.
#pragma once
#include <string>

namespace lowspot::report {

// As hours_text(); hours that miss a limit which reads the same are "just over 24 h".
std::string missed_hours(double hours, double limit);
// As study::plain_hours(), likewise: "just over 24 hours".
std::string missed_plain_hours(double hours, double limit);

} // namespace lowspot::report
