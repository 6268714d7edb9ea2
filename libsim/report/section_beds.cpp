// Beds between soggy and thirsty.
#include <lowspot/base/text.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/sections.hpp>
#include <lowspot/report/series_chart.hpp>

namespace lowspot::report {
namespace {

Table bed_table(const Page& page) {
  Table table{"Beds: too wet, too dry",
              {"bed", "design", "soggy roots", "days below half its water", "lowest share of its water"},
              {},
              {1}};
  const auto& designs = page.comparison().designs;
  for (std::size_t k = 0; !designs.empty() && k < designs.front().beds.size(); ++k)
    for (const results::DesignRecord& design : designs)
      if (k < design.beds.size()) {
        const results::BedRecord& bed = design.beds[k];
        table.rows.push_back({bed.name, design.name, hours_text(bed.soggy_hours),
                              bed.days_below_half_available_water > 0
                                  ? rounded(bed.days_below_half_available_water, 2)
                                  : "none",
                              percent(bed.lowest_available_fraction)});
      }
  return table;
}

} // namespace

std::string beds_section(const Page& page) {
  const Table table = bed_table(page);
  if (table.rows.empty()) return "";
  std::string html = table_html(table);
  for (const std::string& bed : series_parts(page, {"bed:", ":depletion_m"})) {
    Chart chart;
    chart.title = "Water missing from the roots of " + bed;
    chart.description =
        "Depth of water that the root zone lacks below what it can hold, against time, a line a design.";
    chart.x_name = "hours from the start of the storm";
    chart.y_name = bed + ": water missing, " + page.units().depth.name;
    std::string end = ":depletion_m";
    end.insert(0, bed);
    chart.lines = series_lines(page, {"bed:", end}, page.units().depth, false);
    if (highest(chart.lines) > 0) html += "<figure>" + chart_svg(chart) + "</figure>\n";
  }
  return html +
         paragraph(
             "A drain cannot pull a bed drier than the water it holds by itself; a bed dries because water "
             "that used to run on to it goes elsewhere.");
}

} // namespace lowspot::report
