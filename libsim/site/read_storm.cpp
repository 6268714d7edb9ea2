// [storm]: the rain, the dry time after it and what plants and sun draw.
#include <charconv>
#include <cmath>

#include <lowspot/base/limits.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/site/climate.hpp>
#include <lowspot/site/files.hpp>
#include <lowspot/site/greatest_rain.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/readers.hpp>
#include <lowspot/site/usual_storm.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
const std::vector<std::string>& designed_patterns() {
  static const std::vector<std::string> names = {"uniform", "nested",  "nrcs-i",
                                                 "nrcs-ia", "nrcs-ii", "nrcs-iii"};
  return names;
}

// Half of the hardest rain ever measured: not what a yard is planned for.
void warn_of_hard_rain(const TableReader& table, double depth, double duration, const std::string& key) {
  if (!(depth > 0.5 * greatest_rain(duration))) return;
  const Site& site = table.context().site;
  table.warn(key, written(depth, Dimension::length, site) + " in " +
                      written(duration, Dimension::time, site) +
                      " comes near the hardest rain ever measured anywhere, " +
                      written(greatest_rain(duration), Dimension::length, site) + "; check the units");
}

// Of all stretches of blocks, the one that is nearest to the hardest rain: many that are likely each may not
// be together.
void warn_of_hard_stretch(const TableReader& table, const Storm& storm) {
  double nearest = 0, hardest_depth = 0, hardest_duration = 0;
  for (std::size_t first = 0; first < storm.blocks.size(); ++first) {
    double depth = 0, duration = 0;
    for (std::size_t last = first; last < storm.blocks.size(); ++last) {
      depth += storm.blocks[last].intensity * storm.blocks[last].duration;
      duration += storm.blocks[last].duration;
      const double share = depth / greatest_rain(duration);
      if (share > nearest) nearest = share, hardest_depth = depth, hardest_duration = duration;
    }
  }
  if (nearest == 0)
    table.warn("blocks",
               "have no rain in them, so nothing of it will stand anywhere; check their intensities");
  if (nearest > 0) warn_of_hard_rain(table, hardest_depth, hardest_duration, "blocks");
}

// "10 yr", "10-year": years.
double read_return_period(const TableReader& table) {
  const std::string key = "return_period", expected = "a number of years, for example \"10 yr\"";
  if (const auto* bare = table.has(key) ? table.find(key)->as_integer() : nullptr)
    table.fail(key, std::to_string(bare->get()) + " without a unit", expected,
               "Write return_period = \"" + std::to_string(bare->get()) + " yr\".");
  const std::string given = lower(table.text(key, expected));
  double years = 0;
  const auto [end, problem] = std::from_chars(given.data(), given.data() + given.size(), years);
  std::string unit = trim(end);
  if (!unit.empty() && unit.front() == '-') unit = trim(unit.substr(1));
  const bool known = unit == "yr" || unit == "y" || unit == "year" || unit == "years" || unit == "yrs";
  if (problem != std::errc() || !known || !(years > 0) || !std::isfinite(years))
    table.fail(key, "\"" + given + "\"", expected, "Write the mean time between such storms, with \"yr\".");
  return years;
}

void read_blocks(const TableReader& table, Storm& storm) {
  const std::string expected = "a list of [duration, intensity], for example [[\"30 min\", \"1 in/hr\"]]";
  const toml::node& node = table.required("blocks", expected);
  const auto* array = node.as_array();
  if (!array || array->empty())
    table.fail("blocks", shown(node), expected, "Write one pair for each step of the rain.");
  if (array->size() > limits::list_entries)
    table.fail("blocks", std::to_string(array->size()) + " entries",
               "at most " + std::to_string(limits::list_entries), "Write a longer rain as a gauge's table.");
  for (const toml::node& entry : *array) {
    const auto* pair = entry.as_array();
    const bool good = pair && pair->size() == 2 && pair->get(0)->is_string() && pair->get(1)->is_string();
    if (!good) table.fail("blocks", shown(entry), expected, "Each step is a pair of texts in quotes.");
    const ParsedQuantity duration = parse_quantity(pair->get(0)->as_string()->get(), Dimension::time);
    const ParsedQuantity intensity = parse_quantity(pair->get(1)->as_string()->get(), Dimension::speed);
    if (!duration.ok || duration.value <= 0 || duration.value > limits::longest_time)
      table.fail("blocks", shown(*pair->get(0)),
                 "a duration above zero, three years at most, such as \"30 min\"",
                 "Duration first, then intensity.");
    if (!intensity.ok || intensity.value < 0)
      table.fail("blocks", shown(*pair->get(1)), "an intensity such as \"1 in/hr\"",
                 "Duration first, then intensity.");
    storm.blocks.push_back({duration.value, intensity.value});
  }
  warn_of_hard_stretch(table, storm);
}

std::string read_pattern(const TableReader& table) {
  std::vector<std::string> words = designed_patterns();
  words.push_back("gauge");
  words.push_back("blocks");
  if (table.has("pattern")) return table.word("pattern", words);
  if (table.has("blocks")) return "blocks";
  if (table.has("gauge")) return "gauge";
  table.assume("pattern", "nested");
  return "nested";
}

// The day-long patterns last a day whatever is said: titles and labels must say so too.
void hold_a_day(const TableReader& table, const std::string& pattern, double& duration) {
  constexpr double day = 86400; // s
  if (pattern.rfind("nrcs", 0) != 0 || std::abs(duration - day) <= 1) return;
  table.warn("duration",
             written(duration, Dimension::time, table.context().site) +
                 " is not used: a storm of pattern \"" + pattern +
                 "\" lasts 24 hr, over which the whole depth falls, so it is gentler than meant; use "
                 "\"nested\" for a shorter one");
  duration = day;
}

// Depth and duration, or a table to look the depth up in.
void read_size(const TableReader& table, Storm& storm, bool given) {
  if (table.has("table")) {
    storm.table = file_named(table, "table");
    storm.return_period = read_return_period(table);
    storm.return_period_line = table.where("return_period").line;
  } else if (table.has("return_period"))
    table.fail("return_period", "a return period without a table", "table = \"depth_duration.csv\" beside it",
               "Name the table of depths by duration, or write depth = \"2 in\" instead.");
  if (const auto depth = table.maybe_quantity("depth", Dimension::length))
    storm.depth = *depth;
  else if (storm.table.empty()) {
    if (given) table.required("depth", "a depth of rain, or a table, a gauge or blocks");
    storm.depth = table.quantity_or("depth", Dimension::length, usual_storm_depth);
  }
  const std::string usual = storm.pattern.rfind("nrcs", 0) == 0 ? "24 hr" : usual_storm_duration;
  storm.duration = table.quantity_or("duration", Dimension::time, usual, Range::positive);
  hold_a_day(table, storm.pattern, storm.duration);
  if (storm.depth == 0)
    table.warn("depth",
               "is no rain at all, so nothing of it will stand anywhere; give the depth of the storm "
               "that matters");
  if (!storm.table.empty() && !std::isnan(storm.depth))
    table.warn("depth",
               "holds, so the table gives the shape of the storm only: its depths are all scaled alike");
  warn_of_hard_rain(table, storm.depth > 15 * 0.0254 ? 0 : storm.depth, storm.duration, "duration");
  if (storm.depth > 15 * 0.0254)
    table.warn("depth", written(storm.depth, Dimension::length, table.context().site) +
                            " is more rain than any yard drain is built for; check the unit");
}

void refuse_with(const TableReader& table, const std::string& key, const std::string& pattern) {
  if (table.has(key))
    table.fail(key, "`" + key + "` with pattern \"" + pattern + "\"", "one description of the rain",
               "Remove `" + key + "`, or choose another pattern.");
}

void read_rain(const TableReader& table, Storm& storm, bool given) {
  storm.pattern = read_pattern(table);
  if (storm.pattern == "blocks" || storm.pattern == "gauge") {
    for (const char* key : {"depth", "duration", "table", "return_period"})
      refuse_with(table, key, storm.pattern);
    refuse_with(table, storm.pattern == "blocks" ? "gauge" : "blocks", storm.pattern);
    if (storm.pattern == "blocks")
      read_blocks(table, storm);
    else
      storm.gauge = file_named(table, "gauge");
    return;
  }
  for (const char* key : {"blocks", "gauge"}) refuse_with(table, key, storm.pattern);
  read_size(table, storm, given);
}

void read_later(const TableReader& table, Storm& storm) {
  for (const TableReader& later : table.tables("then")) {
    LaterStorm next;
    next.after = later.quantity("after", Dimension::time);
    next.depth = later.quantity("depth", Dimension::length);
    next.duration = later.quantity("duration", Dimension::time, Range::positive);
    warn_of_hard_rain(later, next.depth, next.duration, "depth");
    if (later.has("pattern"))
      next.pattern = later.word("pattern", designed_patterns());
    else
      later.assume("pattern", next.pattern = "uniform");
    hold_a_day(later, next.pattern, next.duration);
    later.done();
    storm.then.push_back(next);
  }
}

void read_reference_et(const TableReader& table, Storm& storm) {
  storm.month = table.maybe_text("month").value_or("");
  if (const auto given = table.maybe_quantity("reference_et", Dimension::speed)) {
    storm.reference_et = *given;
    if (!storm.month.empty()) {
      storm.month = month_named(table, "month", storm.month).month;
      table.warn("month", "gives the temperature only, since reference_et is given");
    }
  } else if (!storm.month.empty()) {
    const catalog::ClimateMonth& row = month_named(table, "month", storm.month);
    storm.month = row.month;
    storm.reference_et = row.reference_et;
    table.assume("reference_et", per_day(storm.reference_et, table) + " (" + storm.month + ")");
  } else
    storm.reference_et = table.quantity_or("reference_et", Dimension::speed, "0.15 in/d");
  if (!storm.month.empty()) storm.daily_high = month_named(table, "month", storm.month).daily_high;
  warn_of_evaporation(table, storm.reference_et);
}
} // namespace

void read_storm(const TableReader& root, Context& context) {
  Storm& storm = context.site.storm;
  const TableReader table = root.table_or_empty("storm");
  storm.line = table.line();
  read_rain(table, storm, root.has("storm"));
  read_later(table, storm);
  storm.dry = table.quantity_or("dry", Dimension::time, "7 d");
  read_reference_et(table, storm);
  table.done();
  if (storm.dry > 120 * 86400.0) table.warn("dry", "is longer than a season; the run will take long");
}

} // namespace lowspot::site
