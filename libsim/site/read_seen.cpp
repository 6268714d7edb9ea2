// [[seen]]: what people saw of the wet, against which the simulated yard is held.
#include <lowspot/base/text.hpp>
#include <lowspot/site/greatest_rain.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/places.hpp>
#include <lowspot/site/readers.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {

void read_place(const TableReader& table, Seen& seen) {
  if (table.has("at")) {
    seen.at = table.point("at");
    require_inside(table, "at", *seen.at);
    if (table.has("area"))
      table.fail("area", "both area and at", "one of them", "Keep the one that says best where it was wet.");
    return;
  }
  seen.area = table.text("area", "the name of the [[area]] that was wet, or at = [x, y]");
  refuse_unknown(table, "area", seen.area, names_of(table.context().site.areas), "the name of an [[area]]");
}

void read_rain(const TableReader& table, Seen& seen) {
  seen.rain = table.quantity("after_rain", Dimension::length, Range::positive);
  seen.rain_duration = table.quantity_or("over", Dimension::time, "6 hr", Range::positive);
  seen.lasted = table.quantity("stood", Dimension::time, Range::positive);
  if (seen.rain > 0.5 * greatest_rain(seen.rain_duration))
    table.warn("after_rain", written(seen.rain, Dimension::length, table.context().site) + " in " +
                                 written(seen.rain_duration, Dimension::time, table.context().site) +
                                 " comes near the hardest rain ever measured anywhere; check the units");
  if (table.has("dry_days") || table.has("wet"))
    table.fail("dry_days", "both after_rain and dry_days", "one of them",
               "Write what was seen after rain and what was seen without rain in two [[seen]] tables.");
}

void read_dry_spell(const TableReader& table, Seen& seen) {
  seen.lasted = table.quantity("dry_days", Dimension::time, Range::positive);
  if (table.maybe_flag("wet") == false)
    table.fail("wet", "false", "true",
               "A place that is dry after days without rain needs no explanation: leave the table out.");
}

} // namespace

void read_seen(const TableReader& root, Context& context) {
  Site& site = context.site;
  for (const TableReader& table : root.tables("seen")) {
    Seen seen;
    seen.line = table.line();
    seen.name = table.maybe_text("name").value_or("seen " + std::to_string(site.seen.size() + 1));
    read_place(table, seen);
    if (table.has("dry_days") && !table.has("after_rain"))
      read_dry_spell(table, seen);
    else
      read_rain(table, seen);
    table.done();
    refuse_taken(table, seen.name, site.seen, "thing seen");
    site.seen.push_back(std::move(seen));
  }
}

} // namespace lowspot::site
