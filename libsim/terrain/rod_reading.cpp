#include <lowspot/terrain/rod_reading.hpp>

#include <charconv>
#include <cmath>

#include <lowspot/base/quantity.hpp>
#include <lowspot/base/text.hpp>

namespace lowspot::terrain {
namespace {

// "4-3 5/8" with the hyphen after the feet; the same length as 4' 3 5/8".
std::string without_hyphen(const std::string& text) {
  const std::size_t hyphen = text.find('-');
  if (hyphen == std::string::npos || hyphen == 0) return "";
  for (std::size_t k = 0; k < hyphen; ++k)
    if (text[k] < '0' || text[k] > '9') return "";
  std::string rest = trim(std::string_view(text).substr(hyphen + 1));
  if (!rest.empty() && rest.back() == '"') rest.pop_back();
  if (rest.empty() || rest[0] < '0' || rest[0] > '9') return "";
  return text.substr(0, hyphen) + "' " + rest + "\"";
}

} // namespace

std::optional<RodReading> parse_rod_reading(std::string_view raw, double unit) {
  const std::string text = trim(raw);
  if (text.empty()) return std::nullopt;
  const char* first = text.data() + (text[0] == '+' ? 1 : 0);
  const char* last = text.data() + text.size();
  double value = 0;
  const auto [end, error] = std::from_chars(first, last, value);
  if (error == std::errc() && end == last && std::isfinite(value))
    return RodReading{value * unit, false, text.find('.') != std::string::npos};
  const std::string hyphenless = without_hyphen(text);
  const ParsedQuantity length = parse_quantity(hyphenless.empty() ? text : hyphenless, Dimension::length);
  if (!length.ok) return std::nullopt;
  const bool inches =
      !hyphenless.empty() || text.find('\'') != std::string::npos || text.find('"') != std::string::npos;
  return RodReading{length.value, inches, false};
}

} // namespace lowspot::terrain
