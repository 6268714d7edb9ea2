// [target], [[gauge]], [[line]] and [run]: what is asked of the answer.
#include <algorithm>

#include <lowspot/base/limits.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/places.hpp>
#include <lowspot/site/readers.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
void read_target_areas(const TableReader& table, Target& target) {
  const toml::node* node = table.find("areas");
  if (!node) return table.assume("areas", "all");
  const auto* array = node->as_array();
  if (!array) table.fail("areas", shown(*node), "a list of names of areas", "Write areas = [\"patio\"].");
  if (array->empty())
    table.fail("areas", "an empty list", "a list of names of areas",
               "Leave `areas` out where all of the yard is meant.");
  for (const toml::node& entry : *array) {
    const auto* name = entry.as_string();
    if (!name)
      table.fail("areas", shown(entry), "the name of an area in quotes", "Write areas = [\"patio\"].");
    if (is_one_of(trim(name->get()), target.areas))
      table.fail("areas", "\"" + trim(name->get()) + "\" twice", "each area once", "Leave one of them out.");
    target.areas.push_back(trim(name->get()));
    refuse_unknown(table, "areas", target.areas.back(), names_of(table.context().site.areas),
                   "the name of an [[area]]");
  }
}
// "no more than before", "2 d more than before", or a time in all.
void read_dry_days(const TableReader& beds, Target& target) {
  const auto given = beds.maybe_text("dry_days");
  if (!given) return;
  target.dry_days = *given;
  std::string text = lower(*given);
  if (text == "no more than before") {
    target.dry_beyond = 0;
    return;
  }
  const std::string more = " more than before";
  const bool beyond =
      text.size() > more.size() && text.compare(text.size() - more.size(), more.size(), more) == 0;
  if (beyond) text = trim(text.substr(0, text.size() - more.size()));
  const ParsedQuantity parsed = parse_quantity(text, Dimension::time);
  if (!parsed.ok || parsed.value < 0 || parsed.value > limits::longest_time)
    beds.fail("dry_days", "\"" + *given + "\"",
              "\"no more than before\", a time such as \"3 d\", or \"2 d more than before\"",
              "It is the time in which a bed holds less than half of the water its plants can use.");
  (beyond ? target.dry_beyond : target.dry_limit) = parsed.value;
}
// A time that no bed can reach before the run is over passes every bed.
void warn_of_short_run(const TableReader& root, const TableReader& beds, const std::string& key,
                       double limit) {
  const Site& site = beds.context().site;
  const double watched = std::max(site.storm.dry, site.season.dry_spell);
  if (!(limit > watched) || root.table_or_empty("run").has("until")) return;
  beds.warn(key,
            written(limit, Dimension::time, site) + " is longer than the run goes on after the rain, " +
                written(watched, Dimension::time, site) +
                ", so a bed that fares badly to its end may pass; make `dry` in [storm] longer, or ask for a "
                "[season]");
}
} // namespace

void read_target(const TableReader& root, Context& context) {
  Target& target = context.site.target;
  const TableReader table = root.table_or_empty("target");
  target.standing_depth = table.quantity_or("standing_depth", Dimension::length, "0.25 in", Range::positive);
  constexpr double deepest_usual = 0.0508; // m, 2 in
  if (target.standing_depth > deepest_usual)
    table.warn("standing_depth",
               written(target.standing_depth, Dimension::length, context.site) +
                   " lets every puddle shallower than that pass as dry, so the yard as it is "
                   "may meet the target; check the unit");
  target.clear_within = table.quantity_or("clear_within", Dimension::time, "24 hr");
  const double dry = context.site.storm.dry;
  if (target.clear_within > dry && !root.table_or_empty("run").has("until"))
    table.warn("clear_within",
               written(target.clear_within, Dimension::time, context.site) +
                   " is longer than the run goes on after the rain, " +
                   written(dry, Dimension::time, context.site) +
                   ", so water that stands at its end counts as too slow; make `dry` in [storm] longer");
  read_target_areas(table, target);
  if (const auto beds = table.table("beds")) {
    if (const auto hours = beds->maybe_quantity("soggy_hours", Dimension::time))
      target.soggy_hours_limit = *hours;
    read_dry_days(*beds, target);
    warn_of_short_run(root, *beds, "soggy_hours", target.soggy_hours_limit);
    warn_of_short_run(root, *beds, "dry_days", target.dry_limit);
    beds->done();
  }
  table.done();
}

void read_gauges(const TableReader& root, Context& context) {
  Site& site = context.site;
  for (const TableReader& table : root.tables("gauge")) {
    Gauge gauge;
    gauge.line = table.line();
    gauge.name = table.maybe_text("name").value_or("gauge " + std::to_string(site.gauges.size() + 1));
    gauge.at = table.point("at");
    table.done();
    refuse_taken(table, gauge.name, site.gauges, "gauge");
    require_inside(table, "at", gauge.at);
    site.gauges.push_back(std::move(gauge));
  }
  for (const TableReader& table : root.tables("line")) {
    CrossLine line;
    line.line = table.line();
    line.name = table.maybe_text("name").value_or("line " + std::to_string(site.lines.size() + 1));
    line.path = table.line_of_points("path");
    table.done();
    refuse_taken(table, line.name, site.lines, "line");
    if (!stays_inside(site.outline, line.path))
      table.warn("path", "leaves the yard; only flow inside it is recorded");
    site.lines.push_back(std::move(line));
  }
}

void read_run_options(const TableReader& root, Context& context) {
  RunOptions& run = context.site.run;
  const TableReader table = root.table_or_empty("run");
  if (const auto until = table.maybe_quantity("until", Dimension::time, Range::positive)) run.until = *until;
  if (const auto every = table.maybe_quantity("output_every", Dimension::time, Range::positive))
    run.output_every = *every;
  table.done();
}

} // namespace lowspot::site
