#include <lowspot/report/storms_page.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/report/document.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/missed_hours.hpp>
#include <lowspot/report/svg_chart.hpp>
#include <lowspot/report/units.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/study/storms_words.hpp>

namespace lowspot::report {
namespace {
using study::StormCurve;
using study::StormStudy;

std::string chart(const StormStudy& study, const Units& units) {
  Chart chart;
  chart.title = "Hours that water stands against the depth of the storm";
  chart.description =
      "Hours after the rain of the judged area that stands longest, a line a design, against the "
      "depth of rain, with the target as a level line.";
  chart.x_name = "depth of rain, " + units.depth.name;
  chart.y_name = "hours after the rain";
  chart.mark_y = study.clear_within / 3600;
  chart.mark_y_name = "target";
  for (std::size_t d = 0; d < study.curves.size(); ++d) {
    ChartLine line;
    line.name = study.curves[d].design;
    line.series = d == 0 ? 0 : 1 + static_cast<int>((d - 1) % 5);
    for (std::size_t k = 0; k < study.levels.size(); ++k) {
      line.x.push_back(units.depth.of(study.levels[k].depth));
      line.y.push_back(study.curves[d].hours[k]);
    }
    chart.lines.push_back(std::move(line));
  }
  return "<figure><figcaption>" + escape(chart.title) + "</figcaption>" + chart_svg(chart) + "</figure>\n";
}

Table storm_table(const StormStudy& study, const site::Site& site, const Units& units) {
  Table table{"Storm by storm: how long the place that stands longest stands", {"storm"}, {}, {}};
  // A storm that does not come once in so many years is called by its depth, which is told once.
  const bool by_years =
      std::any_of(study.levels.begin(), study.levels.end(),
                  [](const study::StormLevel& level) { return std::isfinite(level.return_period); });
  if (by_years) table.head.push_back("rain, " + units.depth.name);
  for (const StormCurve& curve : study.curves) {
    table.head.push_back(curve.design);
    // A band beside the hours is a phrase, which may be parted over lines.
    if (!curve.p10.empty()) table.text_columns.push_back(table.head.size() - 1);
  }
  for (std::size_t k = 0; k < study.levels.size(); ++k) {
    const study::StormLevel& level = study.levels[k];
    std::vector<std::string> row{std::isfinite(level.return_period)
                                     ? unbroken(rounded(level.return_period) + "-year")
                                     : study::storm_name(level, site)};
    if (by_years) row.push_back(figure(level.depth, units.depth, 3));
    for (const StormCurve& curve : study.curves) {
      std::string text = curve.open[k]         ? open_hours_text(curve.hours[k], true)
                         : curve.hours[k] <= 0 ? "0 h"
                                               : missed_hours(curve.hours[k], study.clear_within / 3600);
      if (!curve.p10.empty()) {
        const auto hours = [](double value) { return value > 0 ? hours_text(value) : std::string("0 h"); };
        text += " (" + hours(curve.p10[k]) + " to " + (curve.p90_open[k] ? "more than " : "") +
                hours(curve.p90[k]) + "; meets it in " + percent(curve.works[k]) + ")";
      }
      row.push_back((curve.met[k] ? "\u2713 " : "\u2717 ") + text);
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

} // namespace

std::string storms_html(const study::StormStudy& study, const site::Site& site, const std::string& version) {
  const Units units = units_for(site.units);
  std::string body =
      list(study.sentences) + chart(study, units) + table_html(storm_table(study, site, units));
  std::string how = study::storms_method(study, site);
  if (study.draws > 0)
    how += " In brackets: one soil in ten below, one in ten above, of " + std::to_string(study.draws) +
           " plausible soils drawn with seed " + std::to_string(study.seed) +
           ", and in how many of them it meets the target.";
  body += paragraph(how);
  body += paragraph(
      "A drain is made for a storm and not for every storm: in a heavier one water stands longer, and "
      "goes where it went before. The way it takes then should do no harm.");
  return document_html({"Storms of every size: " + site.name, body, version, units.metric, ""});
}

} // namespace lowspot::report
