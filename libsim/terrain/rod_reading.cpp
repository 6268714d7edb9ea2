#include <lowspot/terrain/rod_reading.hpp>

#include <charconv>
#include <cmath>
#include <vector>

#include <lowspot/base/quantity.hpp>
#include <lowspot/base/quantity_tokens.hpp>
#include <lowspot/base/text.hpp>

namespace lowspot::terrain {
namespace {

constexpr double foot = 0.3048, inch = 0.0254;

bool whole_number(const std::string& text, double& value) {
  if (text.empty() || text.size() > 3) return false;
  value = 0;
  for (char c : text) {
    if (c < '0' || c > '9') return false;
    value = 10 * value + (c - '0');
  }
  return true;
}

std::vector<std::string> split(const std::string& text, char separator) {
  std::vector<std::string> parts(1);
  for (char c : text) {
    if (c == separator)
      parts.emplace_back();
    else
      parts.back() += c;
  }
  return parts;
}

// A fraction of an inch such as "3/8".
bool fraction(const std::string& text, double& value) {
  const std::vector<std::string> parts = split(text, '/');
  double above = 0, below = 0;
  if (parts.size() != 2 || !whole_number(parts[0], above) || !whole_number(parts[1], below)) return false;
  if (below <= 0 || above >= below) return false;
  value = above / below;
  return true;
}

// Feet, inches and what is left of an inch: "4-6-3" and "4.6.3" count eighths, "4-6-3/8" and "4 6 3/8" say
// it in full.
std::optional<double> in_three_parts(const std::string& text) {
  for (char separator : {'-', '.', ' '}) {
    const std::vector<std::string> parts = split(text, separator);
    double feet = 0, inches = 0, part = 0;
    if (parts.size() != 3 || !whole_number(parts[0], feet) || !whole_number(parts[1], inches)) continue;
    std::string last = parts[2];
    if (!last.empty() && last.back() == '"') last.pop_back();
    if (!fraction(last, part)) {
      if (separator == ' ' || last.size() != 1 || !whole_number(last, part) || part > 7) continue;
      part /= 8;
    }
    if (inches < 12) return feet * foot + (inches + part) * inch;
  }
  return std::nullopt;
}

// "4-3 5/8" with the hyphen after the feet; the same length as 4' 3 5/8".
std::optional<double> with_hyphen(const std::string& text) {
  const std::vector<std::string> parts = split(text, '-');
  if (parts.size() != 2) return std::nullopt;
  std::string rest = trim(parts[1]);
  if (!rest.empty() && rest.back() == '"') rest = trim(std::string_view(rest).substr(0, rest.size() - 1));
  const std::vector<std::string> inch_parts = split(rest, ' ');
  double feet = 0, inches = 0, part = 0;
  if (!whole_number(trim(parts[0]), feet) || !whole_number(inch_parts[0], inches) || inches >= 12)
    return std::nullopt;
  if (inch_parts.size() > 2 || (inch_parts.size() == 2 && !fraction(inch_parts[1], part)))
    return std::nullopt;
  return feet * foot + (inches + part) * inch;
}

// A foot and more in the inches, as in 3' 13" or 3 ft 13 in, is a slip of the pen: 4' 1", or 3' 3"?
bool foot_in_inches(const std::string& text, double metres) {
  double feet = 0;
  const std::size_t mark = text.find_first_of("'fF");
  return mark != std::string::npos && whole_number(trim(std::string_view(text).substr(0, mark)), feet) &&
         metres - feet * foot > 11.9999 * inch;
}

} // namespace

std::optional<RodReading> parse_rod_reading(std::string_view raw, double unit) {
  const std::string text = trim(plain_marks(raw));
  if (text.empty()) return std::nullopt;
  const char* first = text.data() + (text[0] == '+' && !text.starts_with("+-") ? 1 : 0);
  const char* last = text.data() + text.size();
  double value = 0;
  const auto [end, error] = std::from_chars(first, last, value);
  if (error == std::errc() && end == last && std::isfinite(value))
    return RodReading{value * unit, false, text.find('.') != std::string::npos};
  if (const auto metres = in_three_parts(text)) return RodReading{*metres, true, false};
  if (const auto metres = with_hyphen(text)) return RodReading{*metres, true, false};
  const ParsedQuantity length = parse_quantity(text, Dimension::length);
  if (!length.ok || foot_in_inches(text, length.value)) return std::nullopt;
  const bool inches = text.find('\'') != std::string::npos || text.find('"') != std::string::npos;
  return RodReading{length.value, inches, false};
}

} // namespace lowspot::terrain
