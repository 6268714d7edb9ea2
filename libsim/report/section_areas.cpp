// Standing water by area and design.
#include <lowspot/base/text.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/key_figures.hpp>
#include <lowspot/report/sections.hpp>
#include <lowspot/results/soggy.hpp>

namespace lowspot::report {
namespace {

std::string clears(const results::AreaRecord& area) {
  if (!area.judged) return "not judged";
  return area.clear_within_target ? "\u2713 yes" : "\u2717 no";
}

Table area_table(const Page& page) {
  const Units& units = page.units();
  Table table{"Standing water by area",
              {"area", "design", "stands after rain", "deepest, " + units.depth.name,
               "wet area, " + units.area.name, "soggy after rain", "within the target?"},
              {},
              {1, 6}};
  const auto& designs = page.comparison().designs;
  if (designs.empty()) return table;
  for (const results::AreaRecord& first : designs.front().areas)
    for (const results::DesignRecord& design : designs)
      for (const results::AreaRecord& area : design.areas)
        if (area.name == first.name)
          table.rows.push_back({area.name, design.name,
                                area.judged
                                    ? judged_hours(area.standing_hours_after_rain, area.still_standing,
                                                   page.comparison().clear_within)
                                    : standing_text(area),
                                figure(area.max_depth, units.depth), figure(area.standing_area, units.area),
                                soggy_text(area), clears(area)});
  return table;
}

Table gauge_table(const Page& page) {
  Table table{
      "Measured points",
      {"point", "design", "stands after rain", "deepest, " + page.units().depth.name, "deepest after"},
      {},
      {1}};
  const auto& designs = page.comparison().designs;
  for (std::size_t k = 0; !designs.empty() && k < designs.front().gauges.size(); ++k)
    for (const results::DesignRecord& design : designs)
      if (k < design.gauges.size()) {
        const results::GaugeRecord& gauge = design.gauges[k];
        table.rows.push_back({gauge.name, design.name,
                              open_hours_text(gauge.standing_hours_after_rain, gauge.still_standing),
                              figure(gauge.max_depth, page.units().depth),
                              gauge.max_depth > 0 ? clock_text(gauge.time_of_max) : "\u2013"});
      }
  return table;
}

} // namespace

std::string areas_section(const Page& page) {
  std::string html;
  Table areas = area_table(page), gauges = gauge_table(page);
  shorten_on_paper(page, 1, areas);
  shorten_on_paper(page, 1, gauges);
  if (!areas.rows.empty()) html += table_html(areas);
  if (!gauges.rows.empty()) html += table_html(gauges);
  if (!html.empty())
    html += paragraph(std::string("Hours run from the end of the rain. ") + results::soggy_ground_words +
                      " Hours are rounded: the soil is never known well enough for more.");
  return html;
}

} // namespace lowspot::report
