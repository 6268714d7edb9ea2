// What leaves the yard, when and where.
#include <algorithm>

#include <lowspot/report/html.hpp>
#include <lowspot/report/sections.hpp>
#include <lowspot/report/series_chart.hpp>
#include <lowspot/report/volume_figure.hpp>

namespace lowspot::report {
namespace {

std::string flow_chart(const Page& page, const std::string& title, const SeriesChoice& choice,
                       bool name_part) {
  Chart chart;
  chart.title = title;
  chart.description = "Flow against time, a line a design, with the rain hanging from the top.";
  chart.x_name = "hours from the start of the storm";
  chart.y_name = page.units().flow.name;
  chart.lines = series_lines(page, choice, page.units().flow, name_part);
  if (highest(chart.lines) <= 0) return "";
  add_rain(chart, page);
  chart.x_end = std::max(busy_end(chart.lines), 1.3 * page.comparison().end_of_rain / 3600);
  return "<figure><figcaption>" + escape(title) + "</figcaption>" + chart_svg(chart) + "</figure>\n";
}

std::string gauge_charts(const Page& page) {
  std::string html;
  for (const std::string& gauge : series_parts(page, {"gauge:", "_m"})) {
    if (gauge.find(":perched") != std::string::npos) continue;
    Chart chart;
    chart.title = "Depth of water at " + gauge;
    chart.description = "Depth of water on the ground against time, a line a design.";
    chart.x_name = "hours from the start of the storm";
    chart.y_name = page.units().depth.name;
    // The whole name: that of one gauge may end in that of another.
    chart.lines = named_series(page, "gauge:" + gauge + "_m", page.units().depth);
    if (highest(chart.lines) <= 0) continue;
    chart.mark_x = page.comparison().end_of_rain / 3600;
    chart.mark_name = "rain ends";
    chart.mark_y = page.units().depth.of(page.comparison().standing_depth);
    chart.mark_y_name = "counts as standing above this";
    chart.x_end = std::max(busy_end(chart.lines), 1.3 * page.comparison().end_of_rain / 3600);
    html += "<figure><figcaption>" + escape(chart.title) + "</figcaption>" + chart_svg(chart) + "</figure>\n";
  }
  return html;
}

void add_flows(Table& table, const Page& page, const char* kind,
               std::vector<results::FlowRecord> results::DesignRecord::*member) {
  const auto& designs = page.comparison().designs;
  for (std::size_t k = 0; !designs.empty() && k < (designs.front().*member).size(); ++k)
    for (const results::DesignRecord& design : designs)
      if (k < (design.*member).size()) {
        const results::FlowRecord& flow = (design.*member)[k];
        table.rows.push_back({std::string(kind) + flow.name, design.name,
                              figure(flow.peak_flow, page.units().flow),
                              volume_figure(flow.volume, page.units().volume)});
      }
}

} // namespace

std::string flows_section(const Page& page) {
  Table table{
      "Water that leaves",
      {"where", "design", "most at once, " + page.units().flow.name, "in all, " + page.units().volume.name},
      {},
      {1}};
  table.only_screen = true; // on paper the sums stand with the options
  add_flows(table, page, "edge: ", &results::DesignRecord::edges);
  add_flows(table, page, "across ", &results::DesignRecord::lines);
  for (const results::DesignRecord& design : page.comparison().designs)
    if (!design.drains.empty())
      table.rows.push_back({"drain outlets", design.name, "",
                            volume_figure(design.ledger.left_by_drains, page.units().volume)});
  std::string html =
      flow_chart(page, "Water leaving over the edges of the yard", {"edges_m3_per_s", ""}, false) +
      flow_chart(page, "Water leaving by the drain", {"drain:", "_m3_per_s"}, true) + gauge_charts(page);
  if (!table.rows.empty()) html += table_html(table);
  return html + list({"Where the water is sent matters in law: rules on concentrating, speeding up or "
                      "turning water on to "
                      "a neighbour differ by state and town, and owner and contractor may both be liable. Do "
                      "not block "
                      "water that comes from uphill.",
                      "No water over sidewalks, walks or drives where it can freeze; keep a way out that "
                      "works when the "
                      "outlet is frozen.",
                      "Never to a sanitary sewer; keep away from septic fields and wells, and ask the health "
                      "department "
                      "for distances. A smell of sewage means stop.",
                      "A curb cut, a ditch, an easement, a wetland or stream edge usually needs a permit."});
}

} // namespace lowspot::report
