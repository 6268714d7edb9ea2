// [season]: the dry spell after the storm, or by itself, that shows whether beds go thirsty.
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/site/climate.hpp>
#include <lowspot/site/readers.hpp>

namespace lowspot::site {

void read_season(const TableReader& root, Context& context) {
  if (!root.has("season")) return;
  Season& season = context.site.season;
  const TableReader table = *root.table("season");
  season.dry_spell = table.quantity_or("dry_spell", Dimension::time, "60 d", Range::positive);
  const auto month = table.maybe_text("month");
  const auto given = table.maybe_quantity("reference_et", Dimension::speed);
  if (month) {
    const catalog::ClimateMonth& row = month_named(table, "month", *month);
    season.month = row.month;
    season.reference_et = row.reference_et;
    season.daily_high = row.daily_high;
  } else {
    season.month = context.site.storm.month;
    season.reference_et = context.site.storm.reference_et;
    season.daily_high = context.site.storm.daily_high;
    if (!given)
      table.assume("month", season.month.empty() ? "as in the storm" : season.month + ", as the storm");
  }
  if (given) {
    season.reference_et = *given;
    warn_of_evaporation(table, *given);
  }
  if (table.has("start")) {
    const std::string word = table.word("start", {"after the storm", "drained", "moist", "wet", "dry"});
    if (word != "after the storm") season.start = start_named(word);
  } else {
    table.assume("start", "after the storm");
  }
  table.done();
  if (season.dry_spell > 200 * 86400.0) table.warn("dry_spell", "is longer than any growing season");
}

} // namespace lowspot::site
