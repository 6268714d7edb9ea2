// Hours beyond what was agreed, in words that a reader can tell from the limit itself.
#pragma once
#include <string>

namespace lowspot::study {

// Two figures as they are written, the first of which misses the second or not: both are rounded, so that a
// near miss would read as if it were kept. "about 24 hours" for a limit of as much is "just over 24 hours".
std::string told_apart(const std::string& found, const std::string& limit, bool missed);

// As plain_hours(); hours that miss a limit which reads the same are "just over 24 hours".
std::string missed_plain_hours(double hours, double limit);

// Hours that went on when the simulated time ended, in whole steps of those that plain_hours() rounds to,
// down: "more than 5 days" of what was followed for 5.25, for nothing has shown that it lasted 5.5.
double whole_steps_of(double hours);

} // namespace lowspot::study
