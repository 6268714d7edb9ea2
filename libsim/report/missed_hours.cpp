#include <lowspot/report/missed_hours.hpp>

#include <lowspot/report/units.hpp>
#include <lowspot/study/verdict.hpp>

namespace lowspot::report {
namespace {

// Both are rounded, so that a near miss would read as if it were kept.
std::string told_apart(const std::string& found, const std::string& limit, bool missed) {
  if (!missed || found != limit) return found;
  const auto figure = found.find_first_of("0123456789");
  if (figure == std::string::npos || found.rfind("under", 0) == 0) return found; // shorter than is told apart
  return "just over " + found.substr(figure);
}

} // namespace

std::string missed_hours(double hours, double limit) {
  return told_apart(hours_text(hours), hours_text(limit), hours > limit);
}

std::string missed_plain_hours(double hours, double limit) {
  return told_apart(study::plain_hours(hours), study::plain_hours(limit), hours > limit);
}

} // namespace lowspot::report
