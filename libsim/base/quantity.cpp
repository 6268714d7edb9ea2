#include <lowspot/base/quantity.hpp>

#include <array>
#include <charconv>
#include <cmath>
#include <numbers>
#include <optional>
#include <vector>

#include <lowspot/base/text.hpp>

namespace lowspot {
namespace {

constexpr double foot = 0.3048, inch = 0.0254, gallon = 3.785411784e-3;
constexpr double minute = 60, hour = 3600, day = 86400;

// A unit as powers of metre and second, so that "in/hr", "in per hour" and "in2/ft" need no table of their
// own.
struct Unit {
  std::string_view name;
  double factor;
  int metres, seconds;
};
constexpr auto units = std::to_array<Unit>({
    {"m", 1, 1, 0},
    {"mm", 1e-3, 1, 0},
    {"cm", 1e-2, 1, 0},
    {"km", 1e3, 1, 0},
    {"in", inch, 1, 0},
    {"inch", inch, 1, 0},
    {"\"", inch, 1, 0},
    {"ft", foot, 1, 0},
    {"foot", foot, 1, 0},
    {"feet", foot, 1, 0},
    {"'", foot, 1, 0},
    {"yd", 3 * foot, 1, 0},
    {"yard", 3 * foot, 1, 0},
    {"meter", 1, 1, 0},
    {"metre", 1, 1, 0},
    {"mile", 5280 * foot, 1, 0},
    {"s", 1, 0, 1},
    {"sec", 1, 0, 1},
    {"second", 1, 0, 1},
    {"min", minute, 0, 1},
    {"minute", minute, 0, 1},
    {"h", hour, 0, 1},
    {"hr", hour, 0, 1},
    {"hour", hour, 0, 1},
    {"d", day, 0, 1},
    {"day", day, 0, 1},
    {"week", 7 * day, 0, 1},
    {"wk", 7 * day, 0, 1},
    {"l", 1e-3, 3, 0},
    {"liter", 1e-3, 3, 0},
    {"litre", 1e-3, 3, 0},
    {"gal", gallon, 3, 0},
    {"gallon", gallon, 3, 0},
    {"gpm", gallon / 60, 3, -1},
    {"cfs", foot* foot* foot, 3, -1},
    {"gph", gallon / 3600, 3, -1},
    {"acre", 43560 * foot* foot, 2, 0},
    {"ha", 1e4, 2, 0},
});

struct Signature {
  Dimension dimension;
  int metres, seconds;
  const char* name;
  const char* example;
};
constexpr auto signatures = std::to_array<Signature>({
    {Dimension::length, 1, 0, "a length", "\"6 in\""},
    {Dimension::area, 2, 0, "an area", "\"420 ft2\""},
    {Dimension::volume, 3, 0, "a volume", "\"50 gal\""},
    {Dimension::time, 0, 1, "a time", "\"36 hr\""},
    {Dimension::speed, 1, -1, "a rate of rain or seepage", "\"0.25 in/hr\""},
    {Dimension::flow, 3, -1, "a flow", "\"8 gal/min\""},
    {Dimension::slope, 0, 0, "a fall or slope", "\"1 in per 8 ft\" or \"2 %\""},
    {Dimension::angle, 0, 0, "an angle", "\"30 deg\""},
    {Dimension::per_time, 0, -1, "a rate per time", "\"1.5 1/s\""},
    {Dimension::per_length, -1, 0, "a rate per length", "\"12 1/m\""},
    {Dimension::area_per_length, 1, 0, "an area of openings per length", "\"1 in2/ft\""},
    {Dimension::temperature, 0, 0, "a temperature", "\"68 F\""},
});

const Signature& signature_of(Dimension dimension) {
  for (const Signature& signature : signatures)
    if (signature.dimension == dimension) return signature;
  return signatures[0];
}

struct Scanner {
  std::string_view text;
  std::size_t at = 0;
  void skip_space() {
    while (at < text.size() && (text[at] == ' ' || text[at] == '\t')) ++at;
  }
  bool done() {
    skip_space();
    return at >= text.size();
  }
  bool take(std::string_view word) {
    if (text.substr(at, word.size()) != word) return false;
    at += word.size();
    return true;
  }
  // Digits with at most one point and an exponent; no sign.
  std::optional<double> plain_number() {
    const std::size_t start = at;
    double value = 0;
    if (at >= text.size() || !(std::isdigit(static_cast<unsigned char>(text[at])) || text[at] == '.'))
      return {};
    const auto [end, problem] = std::from_chars(text.data() + at, text.data() + text.size(), value);
    if (problem != std::errc{}) return {};
    at = static_cast<std::size_t>(end - text.data());
    if (at < text.size() && text[at] == '.') { // "2.5.3"
      at = start;
      return {};
    }
    return value;
  }
  // "3", "3/8", "4 3/8", "4-3/8".
  std::optional<double> number() {
    skip_space();
    double sign = 1;
    if (take("-"))
      sign = -1;
    else
      take("+");
    std::optional<double> whole = plain_number();
    if (!whole) return {};
    if (const auto bottom = over()) return sign * *whole / *bottom;
    const std::size_t before = at;
    if (take("-")) {
    } else {
      skip_space();
    }
    if (at != before) {
      if (const auto top = plain_number())
        if (const auto bottom = over()) return sign * (*whole + *top / *bottom);
      at = before;
    }
    return sign * *whole;
  }
  // The "/8" of a fraction, but not the "/" of "1/s".
  std::optional<double> over() {
    const std::size_t before = at;
    if (!take("/")) return {};
    const auto bottom = plain_number();
    if (bottom && *bottom != 0) return bottom;
    at = before;
    return {};
  }
};

struct Measured {
  double factor = 1;
  int metres = 0, seconds = 0;
};

const Unit* unit_named(std::string_view word) {
  const auto find = [](std::string_view name) -> const Unit* {
    for (const Unit& unit : units)
      if (unit.name == name) return &unit;
    return nullptr;
  };
  if (const Unit* unit = find(word)) return unit;
  if (word.size() > 3 && word.ends_with("es"))
    if (const Unit* unit = find(word.substr(0, word.size() - 2))) return unit;
  if (word.size() > 2 && word.ends_with('s')) return find(word.substr(0, word.size() - 1));
  return nullptr;
}

std::string word_at(Scanner& scan) {
  std::string word;
  while (scan.at < scan.text.size() && std::isalpha(static_cast<unsigned char>(scan.text[scan.at])))
    word += scan.text[scan.at++];
  if (word.empty() && scan.at < scan.text.size() && (scan.text[scan.at] == '\'' || scan.text[scan.at] == '"'))
    word += scan.text[scan.at++];
  return word;
}

// One unit with its power: "ft", "ft2", "ft^2", "sq ft", "cubic yards".
bool read_unit(Scanner& scan, Measured& result, int direction, std::string& problem) {
  scan.skip_space();
  std::string word = lower(word_at(scan));
  int power = 1;
  if (word == "sq" || word == "square" || word == "cu" || word == "cubic") {
    power = word[0] == 's' ? 2 : 3;
    scan.take(".");
    scan.skip_space();
    word = lower(word_at(scan));
  }
  scan.take(".");
  const Unit* unit = unit_named(word);
  if (!unit) {
    problem = word.empty() ? "a unit is missing" : "unknown unit '" + word + "'";
    return false;
  }
  if (scan.take("^2") || scan.take("2") || scan.take("\xc2\xb2"))
    power = 2;
  else if (scan.take("^3") || scan.take("3") || scan.take("\xc2\xb3"))
    power = 3;
  result.factor *= std::pow(unit->factor, direction * power);
  result.metres += direction * power * unit->metres;
  result.seconds += direction * power * unit->seconds;
  return true;
}

bool at_divider(Scanner& scan) {
  scan.skip_space();
  return scan.take("/") || scan.take("per ");
}

ParsedQuantity fail(const std::string& problem) {
  return {false, 0, problem};
}

std::string needs(Dimension dimension) {
  return "needs " + dimension_name(dimension) + " with a unit, such as " + dimension_example(dimension);
}

// Slopes, angles and temperatures have spellings of their own.
std::optional<ParsedQuantity> parse_special(Scanner& scan, Dimension dimension, double value) {
  const std::size_t before = scan.at;
  scan.skip_space();
  if (dimension == Dimension::slope) {
    if (scan.take("%") || scan.take("percent")) return ParsedQuantity{true, value / 100, ""};
    if (scan.take(":")) {
      const auto run = scan.number();
      if (run && *run != 0) return ParsedQuantity{true, value / *run, ""};
      return fail("after ':' a number is missing");
    }
  }
  if (dimension == Dimension::angle) {
    if (scan.take("degrees") || scan.take("degree") || scan.take("deg") || scan.take("\xc2\xb0"))
      return ParsedQuantity{true, value * std::numbers::pi / 180, ""};
    if (scan.take("rad")) return ParsedQuantity{true, value, ""};
  }
  if (dimension == Dimension::temperature) {
    scan.take("deg");
    scan.take("\xc2\xb0");
    scan.skip_space();
    if (scan.take("F")) return ParsedQuantity{true, (value - 32) / 1.8, ""};
    if (scan.take("C")) return ParsedQuantity{true, value, ""};
  }
  scan.at = before;
  return {};
}

ParsedQuantity finish(Scanner& scan, Dimension dimension, double value, const Measured& unit) {
  if (!scan.done())
    return fail("'" + std::string(scan.text.substr(scan.at)) + "' after the quantity is not understood");
  const Signature& wanted = signature_of(dimension);
  if (unit.metres != wanted.metres || unit.seconds != wanted.seconds || dimension == Dimension::angle ||
      dimension == Dimension::temperature)
    return fail("is not " + dimension_name(dimension) + "; it " + needs(dimension));
  if (!std::isfinite(value * unit.factor)) return fail("is too large a number");
  return {true, value * unit.factor, ""};
}

} // namespace

ParsedQuantity parse_quantity(std::string_view text, Dimension dimension) {
  const std::string trimmed = trim(text);
  if (trimmed.empty()) return fail("is empty; it " + needs(dimension));
  Scanner scan{trimmed};
  const auto first = scan.number();
  if (!first) return fail("does not begin with a number; it " + needs(dimension));
  double value = *first;
  if (const auto special = parse_special(scan, dimension, value)) {
    if (!special->ok || scan.done()) return *special;
    return fail("'" + trimmed.substr(scan.at) + "' after the quantity is not understood");
  }
  if (scan.done()) return fail("has no unit; it " + needs(dimension));
  Measured unit;
  std::string problem;
  scan.skip_space();
  const bool inverse = scan.take("1/") || at_divider(scan); // "1.5 1/s", "1.5 /s"
  if (!inverse && !read_unit(scan, unit, 1, problem)) return fail(problem + "; it " + needs(dimension));
  if (inverse && !read_unit(scan, unit, -1, problem)) return fail(problem + "; it " + needs(dimension));
  // Feet and inches: "6' 4 3/8\"", "6 ft 4 in". The sign of the feet is that of the whole.
  if (dimension == Dimension::length && unit.factor == foot && unit.metres == 1 && !scan.done()) {
    Measured small;
    scan.take("-");
    const auto inches = scan.number();
    if (!inches || *inches < 0 || !read_unit(scan, small, 1, problem) || small.factor != inch ||
        small.metres != 1)
      return fail("'" + trimmed + "' is not feet and inches; write it like \"6' 4 3/8\\\"\"");
    return finish(scan, dimension, value + std::copysign(*inches * inch / foot, value), unit);
  }
  while (at_divider(scan)) {
    // "1 in per 8 ft": a number may stand below, too.
    if (const auto below = scan.number()) value /= *below;
    if (!read_unit(scan, unit, -1, problem)) return fail(problem + "; it " + needs(dimension));
  }
  return finish(scan, dimension, value, unit);
}

std::string dimension_name(Dimension dimension) {
  return signature_of(dimension).name;
}
std::string dimension_example(Dimension dimension) {
  return signature_of(dimension).example;
}

} // namespace lowspot
