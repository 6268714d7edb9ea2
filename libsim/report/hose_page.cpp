#include <lowspot/report/hose_page.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/report/document.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/sheet.hpp>
#include <lowspot/report/svg_chart.hpp>
#include <lowspot/report/units.hpp>
#include <lowspot/study/hose_words.hpp>

namespace lowspot::report {
namespace {

constexpr const char* style = "td{border-left:1px solid var(--line)}td:last-child{width:30%}.writes{display:"
                              "flex;flex-wrap:wrap;gap:.5rem 1.2rem;margin:1.5rem 0}.write{display:inline-"
                              "block;border-bottom:1px solid currentColor;min-width:9em}";

// No finer than someone with a watch can tell.
std::string time_text(double seconds) {
  if (!std::isfinite(seconds)) return "not while it was watched";
  if (seconds < 10) return "at once";
  if (seconds < 90) return fixed(std::ceil(seconds / 10) * 10, 0) + " s";
  return clock_text(seconds);
}

// What is looked at, with the figure expected; the last column is filled in beside the outlet.
Table expected(const study::HoseTest& test, const Units& units) {
  Table table{"", {"what to look at", "expected", "found"}, {}, {2}};
  table.rows.push_back({"the hose", amount(test.flow, units.flow) + " for " + clock_text(test.duration), ""});
  const bool several = test.outlets.size() > 1;
  const bool one_lid = test.outlets.size() == 1 && test.outlets.front().lid;
  const bool only_fills = test.outlets.size() == 1 && test.outlets.front().fills;
  if (!several && !(only_fills && !std::isfinite(test.first_water)))
    table.rows.push_back({one_lid ? "first water at the lid of the outlet" : "first water at the outlet",
                          time_text(test.first_water), ""});
  if (several)
    for (const study::HoseOutlet& outlet : test.outlets)
      if (!outlet.fills || std::isfinite(outlet.first_water))
        table.rows.push_back({"first water at " + std::string(outlet.lid ? "the lid of " : "") + outlet.name,
                              time_text(outlet.first_water), ""});
  if (test.last_flow > 0)
    table.rows.push_back(
        {several ? "flow at the outlets together when the hose is shut" : "flow there when the hose is shut",
         amount(test.last_flow, units.flow), ""});
  if (!test.well.empty())
    table.rows.push_back({"deepest water in " + test.well, amount(test.well_depth, units.depth), ""});
  if (std::isfinite(test.first_water)) {
    const std::string which = study::outlet_words(test);
    table.rows.push_back({which + (which == "the outlets" ? " stop" : " stops") + ", after the hose",
                          time_text(test.outlet_stops), ""});
  }
  table.rows.push_back({"the puddle is gone, after the hose", time_text(test.puddle_gone), ""});
  return table;
}

std::string chart(const study::HoseTest& test, const Units& units) {
  const double most =
      test.outlet_flow.empty() ? 0 : *std::max_element(test.outlet_flow.begin(), test.outlet_flow.end());
  if (!(most > 0)) return "";
  Chart chart;
  const std::string where = test.outlets.size() > 1 ? "the outlets together" : "the outlet";
  chart.title = "Water at " + where + ", from the opening of the hose";
  chart.description = "Flow at " + where + " against minutes, with the flow of the hose as a level line.";
  chart.x_name = "minutes; the hose is shut after " + fixed(test.duration / 60, 0);
  chart.y_name = units.flow.name;
  chart.mark_x = test.duration / 60;

  chart.mark_y = units.flow.of(test.flow);
  chart.mark_y_name = "the hose gives";
  ChartLine line{"at " + where, {}, {}, 1};
  for (std::size_t k = 0; k < test.time.size(); ++k) {
    line.x.push_back(test.time[k] / 60);
    line.y.push_back(units.flow.of(test.outlet_flow[k]));
    // What follows is a day's watch of hardly anything.
    if (test.time[k] > 2 * test.duration && test.outlet_flow[k] < 0.01 * most) break;
  }
  chart.lines.push_back(std::move(line));
  return "<figure><figcaption>" + escape(chart.title) + "</figcaption>" + chart_svg(chart) + "</figure>\n";
}

} // namespace

std::string hose_html(const study::HoseTest& test, const site::Site& site, const std::string& version) {
  const Units units = units_for(site.units);
  std::string body;
  for (const std::string& sentence : test.says) body += paragraph(sentence);
  // Works that take in roof water alone are not tested by a hose on the ground.
  if (test.takes_in) body += "<h3>What to expect</h3>\n" + table_html(expected(test, units));
  body += chart(test, units) + "<h3>What it proves</h3>\n" + list(test.proves);
  body += "<div class=\"writes\">" + blank("Tested by") + blank("owner") + blank("date") +
          blank("days since rain") + "</div>\n";
  return document_html({"Hose test: " + test.design + ", " + site.name, body, version, units.metric, style});
}

} // namespace lowspot::report
