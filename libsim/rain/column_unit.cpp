#include <lowspot/rain/column_unit.hpp>

#include <string_view>
#include <utility>

#include <lowspot/base/text.hpp>

namespace lowspot::rain {
namespace {
bool holds_word(const std::string& name, std::string_view word) {
  const auto letter = [&](std::size_t at) {
    return at < name.size() && ((name[at] >= 'a' && name[at] <= 'z') || (name[at] >= '0' && name[at] <= '9'));
  };
  for (std::size_t at = name.find(word); at != std::string::npos; at = name.find(word, at + 1))
    if (!(at > 0 && letter(at - 1)) && !letter(at + word.size())) return true;
  return false;
}

template <std::size_t n>
std::optional<double> first_of(const std::string& column, const std::pair<const char*, double> (&units)[n]) {
  const std::string name = lower(column);
  for (const auto& [word, factor] : units)
    if (holds_word(name, word)) return factor;
  return {};
}
} // namespace

std::optional<double> length_unit_of(const std::string& column) {
  // "in" last: it is also what stands before a unit, as in "rain in cm".
  static constexpr std::pair<const char*, double> units[] = {
      {"mm", 1e-3},       {"millimetres", 1e-3}, {"millimeters", 1e-3},
      {"cm", 0.01},       {"centimetres", 0.01}, {"centimeters", 0.01},
      {"m", 1},           {"metres", 1},         {"meters", 1},
      {"ft", 0.3048},     {"feet", 0.3048},      {"foot", 0.3048},
      {"inches", 0.0254}, {"inch", 0.0254},      {"in", 0.0254}};
  return first_of(column, units);
}

bool counts_parts_of_a_unit(const std::string& column) {
  const std::string name = lower(column);
  for (const char* part : {"tenth", "hundredth", "10th", "100th", "0.", "1/"})
    if (name.find(part) != std::string::npos) return true;
  return false;
}

std::optional<double> time_unit_of(const std::string& column) {
  static constexpr std::pair<const char*, double> units[] = {
      {"min", 60},  {"mins", 60},  {"minute", 60}, {"minutes", 60}, {"h", 3600},
      {"hr", 3600}, {"hrs", 3600}, {"hour", 3600}, {"hours", 3600}, {"s", 1},
      {"sec", 1},   {"second", 1}, {"seconds", 1}};
  return first_of(column, units);
}

} // namespace lowspot::rain
