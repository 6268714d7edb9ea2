#include <lowspot/report/units.hpp>

#include <cmath>
#include <cstdio>

#include <lowspot/base/text.hpp>
#include <lowspot/study/missed_hours.hpp>

namespace lowspot::report {
namespace {

constexpr double foot = 0.3048;
constexpr double inch = 0.0254;
constexpr double gallon = 3.785411784e-3; // US liquid gallon: 231 cubic inches
constexpr double days_from = 72;          // hours; beyond, people count days
const std::string dash = "\u2013";

std::string with_thousands(std::string digits) {
  if (digits.find('e') != std::string::npos) return digits;
  const auto start = digits.find_first_of("0123456789");
  auto end = digits.find('.');
  if (end == std::string::npos) end = digits.size();
  if (end - start < 5) return digits; // four figures are read at a glance
  for (auto at = end; at > start + 3;) {
    at -= 3;
    digits.insert(at, 1, ',');
  }
  return digits;
}

} // namespace

Units units_for(const std::string& site_units) {
  if (site_units == "m")
    return {true,      {1e-3, "mm"}, {1, "m"},      {1, "m"},
            {1, "m²"}, {1e-3, "L"},  {1e-3, "L/s"}, {1e-3 / 3600, "mm/hr"}};
  return {false,
          {inch, "in"},
          {foot, "ft"},
          {foot, "ft"},
          {foot * foot, "ft²"},
          {gallon, "gal"},
          {gallon / 60, "gal/min"},
          {inch / 3600, "in/hr"}};
}

std::string figure(double value, const Unit& unit, int digits) {
  if (!std::isfinite(value)) return dash;
  const double shown = unit.of(value);
  if (shown == 0) return "0";
  // Three figures of 1234 read better as 1230, never as 1.23e3; below a thousandth nothing is worth a digit.
  if (std::abs(shown) < 1e-3) return shown > 0 ? "<0.001" : "0";
  return with_thousands(rounded(shown, digits));
}

std::string amount(double value, const Unit& unit, int digits) {
  if (!std::isfinite(value)) return dash;
  if (value == 0) return "none";
  return figure(value, unit, digits) + ' ' + unit.name;
}

std::string fixed(double value, int decimals) {
  if (!std::isfinite(value)) return dash;
  char text[64];
  std::snprintf(text, sizeof text, "%.*f", decimals, value);
  std::string result = text;
  const auto comma = result.find(','); // a host program may have set another locale
  if (comma != std::string::npos) result[comma] = '.';
  return result;
}

std::string elevation_text(double value, const Units& units) {
  return fixed(units.elevation.of(value), units.metric ? 3 : 2) + ' ' + units.elevation.name;
}

double rounded_hours(double hours) {
  if (!std::isfinite(hours)) return hours;
  if (hours < 10) return std::round(hours);
  if (hours < days_from) return std::round(hours / 2) * 2;
  return hours < 240 ? std::round(hours / 12) * 12 : std::round(hours / 24) * 24;
}

std::string hours_text(double hours) {
  if (!std::isfinite(hours)) return dash;
  if (hours <= 0) return "none";
  if (hours < 1) return "under 1 h";
  const double shown = rounded_hours(hours);
  return hours < days_from ? rounded(shown, 3) + " h" : rounded(shown / 24, 3) + " days";
}

std::string open_hours_text(double hours, bool open, const std::string& at_the_end) {
  if (!open) return hours_text(hours);
  return hours < 1 ? at_the_end : "over " + hours_text(study::whole_steps_of(hours));
}

std::string percent(double share) {
  if (!std::isfinite(share)) return dash;
  return fixed(100 * share, 0) + " %";
}

std::string clock_text(double seconds) {
  const long minutes = std::lround(seconds / 60);
  const long hours = minutes / 60;
  std::string text;
  if (hours > 0) text = std::to_string(hours) + " h";
  if (minutes % 60 != 0 || hours == 0) {
    if (!text.empty()) text += ' ';
    text += std::to_string(minutes % 60) + " min";
  }
  return text;
}

} // namespace lowspot::report
