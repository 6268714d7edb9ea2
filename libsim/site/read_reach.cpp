// [reach] and [[outlet_candidate]]: what a pipe that is to drain a low spot by gravity must keep to, and the
// places where it might end.
#include <lowspot/site/names.hpp>
#include <lowspot/site/places.hpp>
#include <lowspot/site/readers.hpp>
#include <lowspot/site/trench_rules.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
// A height of a pipe or of its cover that no yard has: a unit was mixed up.
constexpr double much_too_high = 3;

void refuse_too_large(const TableReader& table, const std::string& key, double value) {
  if (value <= much_too_high) return;
  const Site& site = table.context().site;
  table.fail(key, written(value, Dimension::length, site),
             "at most " + written(much_too_high, Dimension::length, site), "Check the unit.");
}

void read_rules(const TableReader& root, Site& site) {
  const TableReader table = root.table_or_empty("reach");
  ReachRules& rules = site.reach;
  rules.cover = table.quantity_or("cover", Dimension::length, "6 in");
  refuse_too_large(table, "cover", rules.cover);
  rules.pipe = table.quantity_or("pipe", Dimension::length, "4.6 in", Range::positive);
  refuse_too_large(table, "pipe", rules.pipe);
  rules.least_fall = table.quantity_or("fall", Dimension::slope, "0.5 %", Range::positive);
  rules.deepest_cut = table.quantity_or("deepest_cut", Dimension::length, "5 ft", Range::positive);
  rules.run_out = table.quantity_or("run_out", Dimension::length, "20 ft");
  rules.trench_width = table.quantity_or("trench_width", Dimension::length, "12 in", Range::positive);
  rules.paving_factor = table.maybe_number("paving_factor", 1, 1000).value_or(rules.paving_factor);
  table.done();
  const TrenchRule walls = protected_from(site);
  if (rules.deepest_cut > walls.depth + 1e-6)
    table.warn("deepest_cut", written(rules.deepest_cut, Dimension::length, site) +
                                  " is deeper than a trench may stand without protection, " + walls.written);
  if (rules.deepest_cut < rules.cover + rules.pipe)
    table.fail("deepest_cut", written(rules.deepest_cut, Dimension::length, site),
               "at least cover and pipe, " + written(rules.cover + rules.pipe, Dimension::length, site),
               "With less no pipe fits under its cover.");
}
} // namespace

void read_reach(const TableReader& root, Context& context) {
  Site& site = context.site;
  read_rules(root, site);
  for (const TableReader& table : root.tables("outlet_candidate")) {
    OutletCandidate place;
    place.line = table.line();
    place.name =
        table.maybe_text("name").value_or("outlet " + std::to_string(site.outlet_candidates.size() + 1));
    place.kind = table.maybe_text("kind").value_or("daylight");
    place.at = table.point("at");
    place.level = table.maybe_elevation("level").value_or(not_given);
    table.done();
    refuse_taken(table, place.name, site.outlet_candidates, "outlet candidate");
    require_inside(table, "at", place.at);
    site.outlet_candidates.push_back(std::move(place));
  }
}

} // namespace lowspot::site
