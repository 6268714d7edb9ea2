#include <lowspot/base/units.hpp>

#include <numbers>

#include <lowspot/base/text.hpp>

namespace lowspot {
namespace {
constexpr double foot = 0.3048, inch = 0.0254, yard = 0.9144; // exact, international foot of 1959
constexpr double litre = 1e-3, gallon = 231 * inch * inch * inch;
constexpr double minute = 60, hour = 3600, day = 86400, year = 365.25 * day;

struct Entry {
  const char* names; // separated by blanks; the plural in s is understood
  Unit unit;
};

const Entry entries[] = {
    {"m meter metre", {1, 1, 0}},
    {"mm millimeter millimetre", {1e-3, 1, 0}},
    {"cm centimeter centimetre", {1e-2, 1, 0}},
    {"dm decimeter decimetre", {0.1, 1, 0}},
    {"km kilometer kilometre", {1e3, 1, 0}},
    {"mile", {5280 * foot, 1, 0}},
    {"um micron micrometer micrometre", {1e-6, 1, 0}},
    {"in inch inches", {inch, 1, 0}},
    {"ft foot feet", {foot, 1, 0}},
    {"yd yard", {yard, 1, 0}},
    {"sqm", {1, 2, 0}},
    {"sqft sf", {foot * foot, 2, 0}},
    {"sqin", {inch * inch, 2, 0}},
    {"sqyd sy", {yard * yard, 2, 0}},
    {"ac acre", {43560 * foot * foot, 2, 0}},
    {"ha hectare", {1e4, 2, 0}},
    {"l liter litre", {litre, 3, 0}},
    {"ml milliliter millilitre", {1e-3 * litre, 3, 0}},
    {"gal gallon", {gallon, 3, 0}},
    {"qt quart", {gallon / 4, 3, 0}},
    {"cf cuft", {foot * foot * foot, 3, 0}},
    {"cy cuyd", {yard * yard * yard, 3, 0}},
    {"s sec second", {1, 0, 1}},
    {"min minute", {minute, 0, 1}},
    {"h hr hour", {hour, 0, 1}},
    {"d day", {day, 0, 1}},
    {"wk week", {7 * day, 0, 1}},
    {"mo month", {year / 12, 0, 1}},
    {"yr year", {year, 0, 1}},
    {"gpm", {gallon / minute, 3, -1}},
    {"gph", {gallon / hour, 3, -1}},
    {"gpd", {gallon / day, 3, -1}},
    {"lpm", {litre / minute, 3, -1}},
    {"lps", {litre, 3, -1}},
    {"cfs", {foot * foot * foot, 3, -1}},
    {"cfm", {foot * foot * foot / minute, 3, -1}},
    {"iph", {inch / hour, 1, -1}},
    {"% percent pct", {0.01, 0, 0}},
    {"deg degree", {std::numbers::pi / 180, 0, 0, true}},
    {"rad radian", {1, 0, 0, true}},
};

// Calls use(name) for each name of an entry.
template <typename Use>
void for_each_name(const Entry& entry, Use use) {
  std::string_view names = entry.names;
  while (!names.empty()) {
    const std::size_t end = names.find(' ');
    use(names.substr(0, end));
    names = end == std::string_view::npos ? std::string_view() : names.substr(end + 1);
  }
}

std::optional<Unit> find_exactly(std::string_view name) {
  std::optional<Unit> found;
  for (const Entry& entry : entries)
    for_each_name(entry, [&](std::string_view known) {
      if (known == name) found = entry.unit;
    });
  return found;
}
} // namespace

std::optional<Unit> find_unit(std::string_view name) {
  const std::string small = lower(name);
  std::optional<Unit> found = find_exactly(small);
  // "ms" and "ss" would be read as metres and seconds: the plural needs a name of two letters or more.
  if (!found && small.size() > 2 && small.back() == 's')
    found = find_exactly(std::string_view(small).substr(0, small.size() - 1));
  return found;
}

Unit to_power(const Unit& unit, int power) {
  Unit result{1, unit.length * power, unit.time * power, unit.angle};
  for (int k = 0; k < (power < 0 ? -power : power); ++k) result.factor *= unit.factor;
  if (power < 0) result.factor = 1 / result.factor;
  return result;
}

std::string nearest_unit(std::string_view name) {
  std::vector<std::string> names;
  for (const Entry& entry : entries)
    for_each_name(entry, [&](std::string_view known) { names.emplace_back(known); });
  return nearest(name, names);
}

} // namespace lowspot
