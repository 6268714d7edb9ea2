#include <lowspot/report/tune_page.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/csv_text.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/report/document.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/missed_hours.hpp>
#include <lowspot/report/takeoff_table.hpp>
#include <lowspot/report/tune_chart.hpp>
#include <lowspot/report/tune_words.hpp>
#include <lowspot/results/output_folder.hpp>
#include <lowspot/site/trench_rules.hpp>
#include <lowspot/study/tune_json.hpp>
#include <lowspot/study/verdict.hpp>

namespace lowspot::report {
namespace {

using study::Tried;

std::string section(const std::string& id, const std::string& title, const std::string& html) {
  if (html.empty()) return "";
  return "<section id=\"" + id + "\" aria-labelledby=\"" + id + "-title\"><h3 id=\"" + id + "-title\">" +
         escape(title) + "</h3>\n" + html + "</section>\n";
}

std::string verdict_of(const Tried& tried) {
  if (!tried.candidate.can_be_built()) return "\u2717 cannot be built: " + tried.candidate.refused;
  if (tried.works) return "\u2713 works";
  const std::string why = failure_words(tried);
  if (tried.full) return "\u2717 " + why;
  return why.empty() ? "would do, by the quick look" : "\u2717 by the quick look: " + why;
}

// What could not be laid out far enough to be measured has no size: none is not nothing.
std::string size(const Tried& tried, double value, const Unit& unit) {
  return value > 0 || tried.candidate.can_be_built() ? figure(value, unit, 3) : "\u2013";
}

// The answer stands beside the name, where a narrow screen shows it.
Table table_of(const site::Site& site, const study::Tuning& tuning) {
  Table table{"Smallest first",
              {"combination", "does it do?", "stands", "to dig, " + dig_unit(site).name,
               "trench, " + units_for(site.units).length.name},
              {},
              {1}};
  if (tuning.by_cost) table.head.insert(table.head.begin() + 3, "cost, " + site.ordering.currency);
  for (const Tried& tried : tuning.tried) {
    const study::Works& works = tried.candidate.works;
    std::vector<std::string> row = {
        tried.candidate.name, verdict_of(tried),
        tried.best() ? missed_hours(study::hours_of(*tried.best()), tuning.yard.clear_within / 3600)
                     : "\u2013",
        size(tried, works.dig, dig_unit(site)), size(tried, works.length, units_for(site.units).length)};
    if (tuning.by_cost) row.insert(row.begin() + 3, sum_figure(works.cost));
    table.rows.push_back(std::move(row));
  }
  return table;
}

std::string csv_number(double value) {
  return std::isfinite(value) ? number_text(value) : "";
}

} // namespace

std::string tune_html(const site::Site& site, const study::Tuning& tuning) {
  std::string html = "<p class=\"sentence\">" + escape(tune_headline(site, tuning)) + "</p>\n";
  const std::string chart = tune_chart_svg(site, tuning);
  if (!chart.empty())
    html += section("curve", "What size buys",
                    "<figure>" + chart +
                        "<figcaption>A point for each combination. Left is smaller, low is "
                        "better.</figcaption></figure>\n");
  const std::vector<std::string> steps = step_words(site, tuning), stops = stop_words(site, tuning);
  if (!steps.empty()) html += section("steps", "What each step up buys", list(steps));
  if (!stops.empty()) html += section("stops", stop_heading(tuning), list(stops));
  html += section("combinations", "Every combination", table_html(table_of(site, tuning)));
  html += section(
      "method", "How this was found",
      paragraph(method_words(site, tuning)) +
          (any_run(tuning) ? list({"These figures are for the likely value of each input; soil can differ "
                                   "tenfold. Give the one "
                                   "chosen a size in hand, or run it over plausible soils."})
                           : "") +
          (tuning.smallest >= 0 ? list({limits_note()}) : "") +
          (cost_note(site, tuning).empty() ? "" : list({cost_note(site, tuning)})) +
          list({"Have utilities located before any digging. " + site::trench_words(site),
                "Stay clear of footings; ask before water is sent over a lot line, a sidewalk or into a "
                "street."}));
  if (!tuning.yard.warnings.empty())
    html += section("warnings", "Worth a second look", list(tuning.yard.warnings));
  return document_html({"The smallest drain that does it: " + site.name, html, tuning.yard.version,
                        site.units == "m", tune_chart_style});
}

std::string tune_csv(const study::Tuning& tuning) {
  std::string csv = "combination,works,run_in_full,on_front,dig_m3,trench_m,deepest_m,pipe_m,cost,"
                    "standing_hours,quick_standing_hours,limit,why_not\n";
  for (const Tried& tried : tuning.tried) {
    const study::Works& works = tried.candidate.works;
    const auto hours = [](const auto& record) {
      return record ? csv_number(study::hours_of(*record)) : std::string();
    };
    csv += csv_text(tried.candidate.name) + ',' + (tried.works ? "yes" : "no") + ',' +
           (tried.full ? "yes" : "no") + ',' + (tried.on_front ? "yes" : "no") + ',' + csv_number(works.dig) +
           ',' + csv_number(works.length) + ',' + csv_number(works.deepest) + ',' + csv_number(works.pipe) +
           ',' + csv_number(works.cost) + ',' + hours(tried.full) + ',' + hours(tried.quick) + ',' +
           csv_text(tried.candidate.limit) + ',' + csv_text(failure_words(tried)) + '\n';
  }
  return csv;
}

void write_tuning(const site::Site& site, const study::Tuning& tuning, const std::filesystem::path& folder) {
  results::write_whole_file(folder / "tune.json", study::tune_json(tuning, tune_headline(site, tuning)));
  results::write_whole_file(folder / "tune.csv", tune_csv(tuning));
  results::write_whole_file(folder / "tune.html", tune_html(site, tuning));
}

} // namespace lowspot::report
