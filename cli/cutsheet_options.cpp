#include "cutsheet_options.hpp"

#include <cmath>
#include <limits>
#include <utility>

#include <lowspot/base/error.hpp>
#include <lowspot/base/quantity.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/report/units.hpp>

namespace lowspot::cli {
namespace {

constexpr double least_spacing = 0.0254; // m, an inch: stations closer than a thumb are of no use

constexpr double longest_rod = 25 * 0.3048; // m, of those that crews carry

// Elevations of the deepest and the highest bottom that the rod is held on [m]; not a number: there is none.
std::pair<double, double> bottoms(const report::CutSheetPage& page) {
  const double none = std::numeric_limits<double>::quiet_NaN();
  std::pair<double, double> ends{none, none};
  const auto meet = [&](double bottom) {
    ends = {std::fmin(ends.first, bottom), std::fmax(ends.second, bottom)};
  };
  for (const job::CutRun& run : page.sheet.runs)
    for (const job::CutStation& station : run.stations) meet(station.bottom);
  for (const report::WorkLevel& work : page.works) meet(work.bottom);
  return ends;
}

} // namespace

double length_option(const std::string& name, const std::string& text) {
  const ParsedQuantity parsed = parse_quantity(text, Dimension::length);
  if (!parsed.ok || parsed.value <= 0)
    throw InputError({"", 0, name}, "\"" + text + "\"", "a length with a unit",
                     "write it like " + name + " \"5 ft\"");
  return parsed.value;
}

double spacing_option(const std::string& text, const site::Site& site) {
  if (text.empty()) return site.units == "ft" ? 5 * 0.3048 : 1.5;
  const double every = length_option("--every", text);
  if (every < least_spacing * (1 - 1e-9) || !std::isfinite(every))
    throw InputError({"", 0, "--every"}, "\"" + text + "\"", "1 in (25.4 mm) or more",
                     "write it like --every \"5 ft\"");
  return every;
}

job::RodUnit rod_option(const std::string& text, const site::Site& site) {
  if (text.empty()) return site.units == "ft" ? job::RodUnit::eighths : job::RodUnit::millimetres;
  const auto unit = job::rod_unit_named(text);
  if (!unit)
    throw InputError({"", 0, "--rod"}, "\"" + text + "\"", "eighths, tenths or mm",
                     "say how the crew's rod is marked");
  return *unit;
}

std::string check_instrument(const std::optional<double>& given, const report::CutSheetPage& page) {
  if (!given) return "";
  const report::Units units = report::units_for(page.site.units);
  const std::string found = rounded(*given, 7) + " " + page.site.units;
  const std::string mend = "add the backsight to the elevation of the benchmark, of the same datum as the "
                           "levels of the site file and in " +
                           page.site.units;
  if (!std::isfinite(*given))
    throw InputError({"", 0, "--hi"}, std::isnan(*given) ? "nan" : "inf", "a finite elevation", mend);
  const auto [lowest, highest] = bottoms(page);
  if (!std::isfinite(lowest)) return "";
  const std::string deepest = report::elevation_text(lowest, units);
  if (page.instrument < lowest)
    throw InputError({"", 0, "--hi"}, found, "a height above the lowest bottom, " + deepest, mend);
  if (page.instrument < highest)
    return "the height of instrument, " + found + ", stands below part of what is dug, up to " +
           report::elevation_text(highest, units) +
           ": no rod is read there (above HI). Set the instrument higher, or check --hi: " + mend;
  if (page.instrument - lowest <= longest_rod) return "";
  return "the height of instrument, " + found + ", stands " +
         report::amount(page.instrument - lowest, units.length) + " over the lowest bottom, " + deepest +
         ": longer than rods are. Check --hi: " + mend;
}

} // namespace lowspot::cli
