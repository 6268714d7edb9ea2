#include <lowspot/report/year_later_page.hpp>

#include <algorithm>

#include <lowspot/base/text.hpp>
#include <lowspot/report/document.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/sheet.hpp>
#include <lowspot/report/units.hpp>
#include <lowspot/study/verdict.hpp>

namespace lowspot::report {
namespace {
using study::Cause;
using study::PromisedHours;
using study::YearLater;

constexpr std::size_t most_causes = 8;
constexpr const char* style =
    ".write{display:inline-block;border-bottom:1px solid currentColor;min-width:8em}.writes{display:flex;"
    "flex-wrap:wrap;gap:.9rem 1.4rem;margin:1rem 0}.found{min-width:8em}section{break-inside:avoid}"
    // On a telephone a cause is a block of lines, each with its heading, so that nothing lies off the screen.
    "@media screen and (max-width:40rem){.causes thead{display:none}.causes table,.causes caption,.causes "
    "tbody,.causes tr,"
    ".causes th,.causes td{display:block;width:auto;border:0;padding:.1rem 0}.causes tr{border-top:1px solid;"
    "padding:.5rem 0}.causes td:empty{display:none}.causes td[data-head]::before{content:attr(data-head) \": "
    "\"}}"
    "@media print{html,body{font-size:9.5pt}.sentence{font-size:11.5pt}table{font-size:8.6pt}"
    "th,td{padding:.7mm 1.2mm}main h3{margin:2.5mm 0 1mm}.writes{margin:3mm 0;gap:4mm 6mm}}";

std::string band(const PromisedHours& one) {
  return study::hours_between(one.p10, one.p90, one.open_ended);
}

std::string seen_table(const YearLater& answer, const study::YearLaterQuestion& question) {
  Table table{"What was seen, beside what this rain should have left behind",
              {"", "seen", "", "promised", "middle of the soils"},
              {},
              {1, 2, 3, 4}};
  for (const PromisedHours& one : answer.hours) {
    std::string verdict = "\u2713 as promised";
    if (!one.inside) verdict = one.seen > one.p90 ? "\u2717 longer" : "\u2717 shorter";
    table.rows.push_back({short_name(one.area) + " stood for", study::plain_hours(one.seen), verdict,
                          band(one), study::plain_hours(one.p50)});
  }
  if (question.outlet_ran) {
    const bool several = question.design != nullptr && question.design->outlets.size() > 1;
    table.rows.push_back({several ? "any outlet" : "the outlet", *question.outlet_ran ? "ran" : "did not run",
                          answer.outlet_as_promised ? "\u2713 as promised" : "\u2717 otherwise",
                          "runs in " + percent(answer.outlet_share) + " of the soils", ""});
  }
  return table_html(table);
}

std::string cell(const std::string& head, const std::string& text) {
  return "<td data-head=\"" + escape(head) + "\">" + escape(text) + "</td>";
}

// Empty cells on the right, to write in what was found.
std::string causes_table(const YearLater& answer) {
  std::string html =
      "<div class=\"scroll causes\"><table><caption>What may be the matter, the best fit first: how "
      "long water would "
      "stand with it, and where to look</caption><thead><tr><th>cause</th>";
  for (const PromisedHours& one : answer.hours) html += "<th>" + escape(short_name(one.area, 24)) + "</th>";
  html += "<th>outlet</th><th>look here</th><th class=\"found\">found</th></tr></thead><tbody>\n";
  const std::size_t shown = std::min(most_causes, answer.causes.size());
  for (std::size_t k = 0; k < shown; ++k) {
    const Cause& cause = answer.causes[k];
    html += "<tr><th>" + escape(cause.name.empty() ? "as it was built" : cause.name + ", " + cause.severity) +
            "</th>";
    for (std::size_t a = 0; a < cause.hours.size(); ++a)
      html += cell(short_name(answer.hours[a].area, 24), study::standing_words(cause, a));
    html += cell("outlet", cause.outlet_ran ? "runs" : "dry") + "<td>" + escape(cause.check) +
            "</td><td class=\"found\"></td></tr>\n";
  }
  html += "</tbody></table></div>\n";
  if (answer.causes.size() > shown)
    html += paragraph("And " + std::to_string(answer.causes.size() - shown) + " more: see yearlater.json.");
  return html;
}

std::vector<std::string> what_now(const YearLater& answer) {
  if (answer.as_promised)
    return {"The drain does what was promised for a rain such as this: nothing needs to be dug.",
            "A heavier rain, or one on full ground, stands longer: that is not a fault.",
            "Keep the upkeep going: outlet, gutters and grates cleared, the pipe flushed once a year."};
  return {"Look where the table says, from the top down, before anything is dug up. What costs a look comes "
          "before what costs a day.",
          "Before a spade goes in: utilities located, private lines asked for, no one in a wet trench alone.",
          "Write down what was found. A cause that fits is not a proof: several can leave the same hours "
          "behind.",
          "Doubt the watch and the gauge too: an hour too early or a gauge under a tree changes the answer."};
}

// From the first drop to the last.
double lasted(const rain::Hyetograph& rain) {
  double begin = 0;
  for (std::size_t k = 0; k < rain.intensity.size(); ++k)
    if (rain.intensity[k] > 0) {
      begin = rain.time[k];
      break;
    }
  return rain.end_of_rain() - begin;
}

std::string how(const YearLater& answer) {
  std::string text = "A time of the gauge's table begins the interval its rain fell in, or ends it where the "
                     "column is called time_end. "
                     "Hours run from the last rain of the table to the last puddle deeper than the "
                     "target's depth, and the ground starts as wet as the site file says. ";
  if (answer.draws > 0)
    text += "Promised: one soil in ten leaves it sooner and one in ten later, of " +
            std::to_string(answer.draws) + " plausible soils drawn with seed " + std::to_string(answer.seed) +
            ". ";
  else
    text += "Promised: for the likely soil alone, since no input was given as a band. ";
  return text + "An hour, or a tenth of what was seen, is allowed for the watch.";
}

} // namespace

std::string year_later_html(const YearLater& answer, const study::YearLaterQuestion& question,
                            const site::Site& site, const std::string& version) {
  const Units units = units_for(site.units);
  Document document;
  document.title = "A year later: " + short_name(site.name, 60);
  document.version = version;
  document.metric = units.metric;
  document.style = style;
  std::string& body = document.body;
  std::string verdict =
      answer.as_promised ? "As promised: what was seen fits what this rain should leave behind."
                         : "Not as promised: what was seen does not fit what this rain should leave behind.";
  if (!answer.stopped.empty()) verdict = answer.stopped + " " + verdict;
  body += "<p class=\"sentence\">" + escape(verdict) + "</p>\n";
  body += paragraph("Built: " + short_name(answer.design, 120) + ". The gauge wrote down " +
                    amount(answer.rain_depth, units.depth, 3) + " of rain in " +
                    clock_text(lasted(question.rain)) + ".");
  if (!question.rain.warnings.empty()) body += list(question.rain.warnings);
  body += list(answer.sentences);
  body += seen_table(answer, question);
  if (!answer.causes.empty()) body += causes_table(answer);
  body += part("What now", list(what_now(answer)));
  body += "<div class=\"writes\">" + blank("looked at on") + blank("by") + blank("found") + blank("done") +
          blank("owner") + blank("contractor") + "</div>\n";
  body += paragraph(how(answer));
  return document_html(document);
}

} // namespace lowspot::report
