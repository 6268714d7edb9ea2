// Beds between soggy and thirsty.
#include <algorithm>
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/report/bed_charts.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/key_figures.hpp>
#include <lowspot/report/sections.hpp>
#include <lowspot/results/bed_change.hpp>
#include <lowspot/results/soggy.hpp>
#include <lowspot/site/wet_feet.hpp>

namespace lowspot::report {
namespace {

using Beds = std::vector<results::BedRecord> results::DesignRecord::*;

std::string days_text(double days) {
  return days > 0.05 ? rounded(days, 2) : "none";
}

std::string limit_text(const results::BedRecord& bed) {
  if (!std::isfinite(bed.wet_feet_low_hours)) return "not known";
  return hours_text(bed.wet_feet_low_hours) + " to " + hours_text(bed.wet_feet_high_hours);
}

Table bed_table(const Page& page, Beds beds, const std::string& caption) {
  Table table{caption,
              {"bed", "design", "soggy roots in all, mean over it", "longest spell of half of it",
               "plants stand it for", "days below half its water", "lowest share of its water"},
              {},
              {1}};
  const auto& designs = page.comparison().designs;
  for (std::size_t k = 0; !designs.empty() && k < (designs.front().*beds).size(); ++k)
    for (const results::DesignRecord& design : designs)
      if (k < (design.*beds).size()) {
        const results::BedRecord& bed = (design.*beds)[k];
        table.rows.push_back(
            {bed.name, design.name, open_hours_text(bed.soggy_hours, bed.still_soggy, still_soggy),
             open_hours_text(bed.longest_soggy_hours, bed.spell_open, still_soggy), limit_text(bed),
             days_text(bed.days_below_half_available_water), percent(bed.lowest_available_fraction)});
      }
  shorten_on_paper(page, 1, table);
  return table;
}

Table budget_table(const Page& page) {
  const Unit& unit = page.units().depth;
  Table table{"Where the water of each bed came from and went, " + unit.name +
                  " over the bed, storm and drying",
              {"bed", "design", "rain", "run-on that soaked in", "from the ground beside it", "into trenches",
               "drunk by plants", "seeped away below", "more in the ground at the end"},
              {},
              {1}};
  const auto& designs = page.comparison().designs;
  for (std::size_t k = 0; !designs.empty() && k < designs.front().beds.size(); ++k)
    for (const results::DesignRecord& design : designs)
      if (k < design.beds.size()) {
        const results::BedBudget& water = design.beds[k].budget;
        table.rows.push_back({design.beds[k].name, design.name, figure(water.rain, unit),
                              figure(water.run_on, unit), figure(water.lateral, unit),
                              figure(water.to_drain, unit), figure(water.drunk, unit),
                              figure(water.leaked, unit), figure(water.change, unit)});
      }
  return table;
}

// What the designs change for a bed and why, over the storm or a season that follows it: of the proposed one,
// or of the others.
std::vector<std::string> reasons(const Page& page, bool proposed) {
  std::vector<std::string> said;
  const auto& designs = page.comparison().designs;
  for (std::size_t k = 0; k < designs.front().beds.size(); ++k)
    for (std::size_t d = 1; d < designs.size(); ++d) {
      if (k >= designs[d].beds.size()) continue;
      if ((designs[d].name == page.comparison().verdict.design) != proposed) continue;
      const std::string why =
          results::why_sentence(designs.front().beds[k].budget, designs[d].beds[k].budget);
      if (!why.empty())
        said.push_back(designs.front().beds[k].name + " with " + designs[d].name + ": " + why);
    }
  return said;
}

// Soggy spells against what the plants stand.
std::vector<std::string> wet_feet(const Page& page) {
  std::vector<std::string> said;
  for (const results::DesignRecord& design : page.comparison().designs)
    for (const results::BedRecord& bed : design.beds) {
      if (!(bed.longest_soggy_hours > bed.wet_feet_low_hours)) continue;
      const bool most = bed.longest_soggy_hours > bed.wet_feet_high_hours;
      said.push_back(bed.name + ", " + design.name + ": roots stand without air for " +
                     open_hours_text(bed.longest_soggy_hours, bed.spell_open) + " on end, longer than " +
                     (most ? "most " : "some ") + bed.plants + " survive unharmed (" + limit_text(bed) +
                     ").");
    }
  return said;
}

bool has_grass(const results::Comparison& all) {
  return std::any_of(all.cover_kinds.begin(), all.cover_kinds.end(), site::is_grass);
}

// Grass under water: warm water kills in a day what cold water spares for weeks.
std::string turf_note(const Page& page) {
  const results::Comparison& all = page.comparison();
  if (!std::isfinite(all.daily_high) || all.designs.empty()) return "";
  std::string names;
  for (std::size_t a = 0; a < all.cover_kinds.size() && a < all.designs.front().areas.size(); ++a)
    if (site::is_grass(all.cover_kinds[a]))
      for (const results::DesignRecord& design : all.designs) {
        const results::AreaRecord& area = design.areas[a];
        if (area.standing_hours_after_rain * 3600 > site::turf_limit(all.daily_high).low)
          names += " " + area.name + ", " + design.name + ": under water for " + standing_text(area) +
                   ", long enough to kill it.";
      }
  const std::string heat = page.units().metric ? rounded(all.daily_high, 2) + " \u00b0C"
                                               : rounded(32 + 1.8 * all.daily_high, 2) + " \u00b0F";
  const site::HoursLimit limit = site::turf_limit(all.daily_high);
  return "Grass under water: with days of up to " + heat + " the first of it dies after " +
         hours_text(limit.low / 3600) + ", most of it after " + hours_text(limit.high / 3600) +
         "; in hot weather a day is enough, in cold weather it stands weeks." + names;
}

std::string season_text(const Page& page) {
  const results::SeasonPlan& season = page.comparison().season;
  if (season.length <= 0) return "";
  std::string text = "Then " + rounded(season.length / 86400, 3) + " days without rain";
  text += season.month.empty() ? "" : ", as dry as " + season.month;
  return text + (season.start == "after the storm"
                     ? ", after the storm."
                     : ", from a " + season.start + " start instead of after the storm.");
}

} // namespace

std::string beds_section(const Page& page) {
  const Table table = bed_table(page, &results::DesignRecord::beds, "Beds: too wet, too dry");
  const std::string turf = turf_note(page);
  if (table.rows.empty()) return turf.empty() || !has_grass(page.comparison()) ? "" : paragraph(turf);
  std::string html = table_html(table);
  const std::vector<std::string> drowned = wet_feet(page), why = reasons(page, true),
                                 of_others = reasons(page, false);
  if (!drowned.empty()) html += list(drowned);
  html += bed_charts(page);
  Table budget = budget_table(page);
  budget.only_screen = true;
  html += table_html(budget);
  if (!why.empty()) html += list(why);
  // On paper the proposed design speaks for itself, as in the tables.
  if (!of_others.empty())
    html += why.empty() ? list(of_others) : "<div class=\"only-screen\">" + list(of_others) + "</div>\n";
  const std::string season = season_text(page);
  if (!season.empty()) {
    html += paragraph(season);
    html += table_html(bed_table(page, &results::DesignRecord::season_beds, "Beds in the dry spell"));
    html += season_charts(page);
  }
  if (!turf.empty()) html += paragraph(turf);
  return html +
         paragraph(std::string(results::soggy_roots_words) +
                   " Their hours count the rain as well, those of soggy ground begin when it ends. No drain "
                   "pulls a bed drier than what it holds by itself: it dries where less water runs on "
                   "to it, or the reserve on the tight layer is gone.");
}

} // namespace lowspot::report
