// Water in the ground, which nobody sees: soggy soil with and without a puddle, and what stands under slabs.
#include <algorithm>

#include <lowspot/base/text.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/key_figures.hpp>
#include <lowspot/report/sections.hpp>
#include <lowspot/results/soggy.hpp>

namespace lowspot::report {
namespace {

const results::AreaRecord* area_of(const results::DesignRecord& design, const std::string& name) {
  const auto found = std::find_if(design.areas.begin(), design.areas.end(),
                                  [&](const results::AreaRecord& area) { return area.name == name; });
  return found == design.areas.end() ? nullptr : &*found;
}

std::string stays_full(const results::AreaRecord& area) {
  if (area.soggy_hours_after_rain <= 0 && !area.still_soggy) return "is not full once the rain is over";
  return "stays full for " + soggy_text(area) + " after the rain";
}

// "Under patio the soil stays full for 60 h after the rain as it is; with 'drain' it stays full for 12 h."
std::string slab_sentence(const Page& page, const std::string& name) {
  const auto& designs = page.comparison().designs;
  std::string text = "Under " + name + " the soil " + stays_full(*area_of(designs.front(), name));
  text += designs.size() > 1 ? " as it is" : "";
  for (std::size_t k = 1; k < designs.size(); ++k)
    if (const results::AreaRecord* area = area_of(designs[k], name))
      text += "; with " + designs[k].name + " it " + stays_full(*area);
  return text + ".";
}

Table soggy_table(const Page& page) {
  const Units& units = page.units();
  Table table{
      "Puddle or soggy, after the rain",
      {"area", "design", "puddle stands", "ground soggy", "most water in the soil, " + units.depth.name},
      {},
      {1}};
  const auto& designs = page.comparison().designs;
  for (const results::AreaRecord& first : designs.front().areas)
    for (const results::DesignRecord& design : designs)
      if (const results::AreaRecord* area = area_of(design, first.name))
        table.rows.push_back({(area->under_slab ? "under " : "") + area->name, design.name,
                              area->judged
                                  ? judged_hours(area->standing_hours_after_rain, area->still_standing,
                                                 page.comparison().clear_within)
                                  : standing_text(*area),
                              soggy_text(*area), figure(area->perched_max, units.depth)});
  return table;
}

} // namespace

std::string soggy_section(const Page& page) {
  const auto& designs = page.comparison().designs;
  if (designs.empty() || designs.front().areas.empty()) return "";
  std::string html, said = "Maps of water in the ground, one column a design. ";
  for (const results::AreaRecord& area : designs.front().areas)
    if (area.under_slab && area.perched_max > 0) html += paragraph(slab_sentence(page, area.name));
  for (const results::DesignRecord& design : designs)
    said += design.name + ": " + soggy_caption(design) + "; " + perched_caption(design, page.units()) + ". ";
  html += "<figure class=\"paper\"><div class=\"scroll\" tabindex=\"0\" role=\"group\" "
          "aria-label=\"Maps of water in the ground\"><img alt=\"";
  html += escape(said) + "\" src=\"" + png_source(page.pictures.perched) + "\"></div></figure>\n";
  html += table_html(soggy_table(page));
  html += paragraph(
      std::string(results::soggy_ground_words) +
      " An area counts as soggy until less than a tenth of it is. The tight layer is taken to run under "
      "a slab where the lot was graded, and the topsoil there to be what slab and base left of it.");
  return html;
}

} // namespace lowspot::report
