#include <lowspot/report/missed_hours.hpp>

#include <lowspot/report/units.hpp>
#include <lowspot/study/missed_hours.hpp>

namespace lowspot::report {

std::string missed_hours(double hours, double limit) {
  return study::told_apart(hours_text(hours), hours_text(limit), hours > limit);
}

} // namespace lowspot::report
