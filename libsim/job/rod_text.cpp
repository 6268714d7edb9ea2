#include <lowspot/job/rod_text.hpp>

#include <algorithm>
#include <charconv>
#include <cmath>

#include <lowspot/base/text.hpp>

namespace lowspot::job {
namespace {
constexpr double foot = 0.3048, inch = 0.0254;

// Whole inches and a fraction in lowest terms: 4 3/8, 1/2, 6.
std::string inches_and_eighths(long eighths, bool always_whole) {
  const long whole = eighths / 8;
  long part = eighths % 8, of = 8;
  while (part > 0 && part % 2 == 0) {
    part /= 2;
    of /= 2;
  }
  std::string text;
  if (whole > 0 || part == 0 || always_whole) text = std::to_string(whole);
  if (part > 0) text += (text.empty() ? "" : " ") + std::to_string(part) + "/" + std::to_string(of);
  return text;
}

std::string hundredths(long count) {
  const std::string part = std::to_string(count % 100);
  return std::to_string(count / 100) + "." + (part.size() < 2 ? "0" : "") + part;
}

std::optional<double> plain_number(std::string_view text) {
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}
} // namespace

std::optional<RodUnit> rod_unit_named(std::string_view name) {
  const std::string word = lower(trim(name));
  if (word == "eighths") return RodUnit::eighths;
  if (word == "tenths") return RodUnit::tenths;
  if (word == "mm") return RodUnit::millimetres;
  return std::nullopt;
}

double finest_mark(RodUnit unit) {
  if (unit == RodUnit::eighths) return inch / 8;
  return unit == RodUnit::tenths ? foot / 100 : 0.001;
}

namespace {
// What a slip of the pen makes longer than this is not counted in marks or hundreds of feet.
constexpr double longest = 1e9; // m

long marks_of(double metres, RodUnit unit) {
  return std::lround(std::min(std::abs(metres), longest) / finest_mark(unit));
}
} // namespace

std::string rod_text(double metres, RodUnit unit) {
  const long marks = marks_of(metres, unit);
  const std::string sign = metres < 0 && marks > 0 ? "-" : "";
  if (unit == RodUnit::millimetres) return sign + std::to_string(marks) + " mm";
  if (unit == RodUnit::tenths) return sign + hundredths(marks) + " ft";
  return sign + std::to_string(marks / 96) + "' " + inches_and_eighths(marks % 96, true) + "\"";
}

std::string difference_text(double metres, RodUnit unit) {
  const long marks = marks_of(metres, unit);
  if (marks == 0) return "";
  if (unit == RodUnit::millimetres) return std::to_string(marks) + " mm";
  if (unit == RodUnit::tenths) return hundredths(marks) + " ft";
  return inches_and_eighths(marks, false) + " in";
}

std::string width_text(double metres, RodUnit unit) {
  const std::string text = difference_text(metres, unit == RodUnit::millimetres ? unit : RodUnit::eighths);
  return text.empty() ? "0" : text;
}

std::string cut_text(double metres, RodUnit unit) {
  return metres > 0 ? rod_text(metres, unit) : "none";
}

std::string station_text(double metres, bool feet) {
  if (!feet || !(std::abs(metres) <= longest)) return rounded(std::round(metres * 100) / 100, 6) + " m";
  const double all = std::round(metres / foot * 10) / 10;
  const long hundreds = static_cast<long>(std::floor(all / 100));
  const double rest = all - 100.0 * static_cast<double>(hundreds);
  const std::string text = rounded(rest, 4);
  const bool one_digit = rest < 10;
  return std::to_string(hundreds) + "+" + (one_digit ? "0" : "") + text;
}

std::optional<double> parse_station(std::string_view raw, double unit) {
  std::string text = trim(raw);
  if (text.size() > 2 && text.compare(text.size() - 2, 2, " m") == 0) {
    const auto value = plain_number(std::string_view(text).substr(0, text.size() - 2));
    return value && *value >= 0 ? value : std::nullopt;
  }
  const std::size_t plus = text.find('+');
  if (plus == std::string::npos) {
    const auto value = plain_number(text);
    if (!value || *value < 0) return std::nullopt;
    return *value * unit;
  }
  const std::string_view after = std::string_view(text).substr(plus + 1);
  const auto whole = plain_number(std::string_view(text).substr(0, plus));
  const auto rest = plain_number(after);
  const double most = unit < 1 ? 100 : 1000; // stations of 100 ft, or of a kilometre
  if (!whole || !rest || *whole < 0 || *rest < 0 || *rest >= most || std::floor(*whole) != *whole)
    return std::nullopt;
  // Two digits in a yard in metres are hundreds of feet out of habit, or metres: nobody can tell.
  if (unit >= 1 && std::min(after.find('.'), after.size()) != 3) return std::nullopt;
  return (*whole * most + *rest) * (unit < 1 ? foot : 1);
}

} // namespace lowspot::job
