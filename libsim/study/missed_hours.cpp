#include <lowspot/study/missed_hours.hpp>

#include <cmath>

#include <lowspot/study/verdict.hpp>

namespace lowspot::study {

std::string told_apart(const std::string& found, const std::string& limit, bool missed) {
  if (!missed || found != limit) return found;
  const auto figure = found.find_first_of("0123456789");
  if (figure == std::string::npos || found.rfind("under", 0) == 0) return found; // shorter than is told apart
  return "just over " + found.substr(figure);
}

std::string missed_plain_hours(double hours, double limit) {
  return told_apart(plain_hours(hours), plain_hours(limit), hours > limit);
}

double whole_steps_of(double hours) {
  if (!std::isfinite(hours)) return hours;
  const double step = hours < 10 ? 1 : hours < 72 ? 2 : hours < 240 ? 12 : 24;
  return std::floor(hours / step + 1e-6) * step;
}

} // namespace lowspot::study
