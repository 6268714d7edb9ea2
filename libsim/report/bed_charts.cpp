#include <lowspot/report/bed_charts.hpp>

#include <algorithm>

#include <lowspot/report/html.hpp>
#include <lowspot/report/series_chart.hpp>
#include <lowspot/results/soggy.hpp>

namespace lowspot::report {
namespace {

const Unit per_cent{0.01, "%"};
constexpr double hour = 3600, day = 86400;

Chart empty_chart(const results::BedRecord& bed) {
  Chart chart;
  chart.title = "Water for the plants of " + bed.name;
  chart.description =
      "Water in the root zone as a share of what plants can use of it when the soil has drained, "
      "against time, a line a design; too little below the lower mark, too wet above the upper one.";
  chart.y_name = "% of what drained soil holds for roots";
  chart.mark_y = per_cent.of(results::thirsty_share);
  chart.mark_y_name = "thirsty below";
  if (bed.soggy_share > 0) chart.levels.emplace_back(per_cent.of(bed.soggy_share), "soggy above");
  return chart;
}

void add_lines(Chart& chart, const Page& page, const std::string& name,
               std::vector<double> results::DesignRecord::*time,
               std::vector<results::Series> results::DesignRecord::*series, double time_unit) {
  const auto& designs = page.comparison().designs;
  for (std::size_t k = 0; k < designs.size(); ++k)
    for (const results::Series& one : designs[k].*series) {
      if (one.name != name) continue;
      ChartLine line{designs[k].name, {}, {}, series_class(k)};
      for (const double moment : designs[k].*time) line.x.push_back(moment / time_unit);
      for (const double value : one.values) line.y.push_back(per_cent.of(std::max(0.0, value)));
      chart.lines.push_back(std::move(line));
    }
}

std::string series_name(const results::BedRecord& bed) {
  return "bed:" + bed.name + ":available_share";
}

} // namespace

std::string bed_charts(const Page& page) {
  std::string html;
  for (const results::BedRecord& bed : page.comparison().designs.front().beds) {
    Chart chart = empty_chart(bed);
    chart.x_name = "hours from the start of the storm";
    chart.mark_x = page.comparison().end_of_rain / hour;
    chart.mark_name = "rain ends";
    add_lines(chart, page, series_name(bed), &results::DesignRecord::time, &results::DesignRecord::series,
              hour);
    if (!chart.lines.empty())
      html +=
          "<figure><figcaption>" + escape(chart.title) + "</figcaption>" + chart_svg(chart) + "</figure>\n";
  }
  return html;
}

std::string season_charts(const Page& page) {
  std::string html;
  for (const results::BedRecord& bed : page.comparison().designs.front().season_beds) {
    Chart chart = empty_chart(bed);
    chart.x_name = "days without rain";
    add_lines(chart, page, series_name(bed), &results::DesignRecord::season_time,
              &results::DesignRecord::season_series, day);
    if (!chart.lines.empty())
      html +=
          "<figure><figcaption>" + escape(chart.title) + "</figcaption>" + chart_svg(chart) + "</figure>\n";
  }
  return html;
}

} // namespace lowspot::report
