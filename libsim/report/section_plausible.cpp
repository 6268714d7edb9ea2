// How sure the answer is: bands over plausible soils, where it turns, what would narrow it.
#include <algorithm>
#include <cmath>

#include <lowspot/report/band_chart.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/key_figures.hpp>
#include <lowspot/report/sections.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/study/figures.hpp>
#include <lowspot/study/plausible_words.hpp>
#include <lowspot/study/spread.hpp>

namespace lowspot::report {
namespace {
using results::PlausibleFigure;
using results::PlausibleStudy;

struct Wording {
  const char* what;
  const char* words;
};
constexpr Wording wordings[] = {
    {"standing_hours", "water stands"},
    {"soggy_hours", "ground stays soggy"},
    {"peak_flow", "peak at the foot of"},
    {"drained_volume", "carried off by the drain"},
    {"longest_soggy_roots", "longest spell of soggy roots, rain included"},
    {"days_below_half", "days with less than half of the water plants can use"},
    {"season_days_below_half", "days of the dry spell with less than half of the water plants can use"},
    {"season_lowest_available", "least water for plants in the dry spell"},
    {"edge_volume", "leaves over the side"},
};

std::string words_of(const std::string& what) {
  for (const Wording& one : wordings)
    if (what == one.what) return one.words;
  return "";
}

std::string at_the_end(const std::string& what) {
  return what == "standing_hours" ? "still standing at the end" : still_soggy;
}

std::string value_of(const PlausibleFigure& figure, double value, bool open, const Units& units) {
  std::string text;
  if (figure.unit == "h")
    return !open && value <= 0 ? "0 h" : open_hours_text(value, open, at_the_end(figure.what));
  if (figure.unit == "m3/s")
    text = amount(value, units.flow);
  else if (figure.unit == "m3")
    text = amount(value, units.volume);
  else if (figure.unit == "d")
    text = fixed(value, 1) + " d";
  else
    text = percent(value);
  return open ? "over " + text : text;
}

// Whether it still was so when the main run ended: its figure is then but the least that it can be.
bool main_is_open(const Page& page, const PlausibleFigure& figure) {
  const results::Comparison& all = page.comparison();
  for (const results::DesignRecord& design : all.designs)
    if (design.name == figure.design)
      for (const study::Figure& one : study::figures_of(design, {}, all.end_of_rain))
        if (one.what == figure.what && one.place == figure.place) return one.open;
  return false;
}

Table figure_table(const Page& page, const PlausibleStudy& study) {
  Table table{"Bands over the plausible soils",
              {"what", "design", "main run", "low (P10)", "middle (P50)", "high (P90)"},
              {},
              {1}};
  for (const Wording& wording : wordings)
    for (const PlausibleFigure& first : study.figures) {
      if (first.what != wording.what || first.design != study.figures.front().design) {
        // What only a drain has stands under the first design that has it.
        const bool earlier = std::any_of(&study.figures.front(), &first, [&](const PlausibleFigure& other) {
          return other.what == first.what && other.place == first.place;
        });
        if (first.what != wording.what || earlier) continue;
      }
      for (const PlausibleFigure& figure : study.figures) {
        if (figure.what != first.what || figure.place != first.place) continue;
        if (figure.p90 <= 0 && figure.p10 >= 0 && figure.what != "standing_hours") continue;
        const auto is_open = [&](double p) {
          return study::quantile_is_open(figure.values, figure.open, study.weights, p);
        };
        table.rows.push_back({words_of(figure.what) + ": " + figure.place, figure.design,
                              std::isfinite(figure.main)
                                  ? value_of(figure, figure.main, main_is_open(page, figure), page.units())
                                  : "-",
                              value_of(figure, figure.p10, is_open(0.1), page.units()),
                              value_of(figure, figure.p50, is_open(0.5), page.units()),
                              value_of(figure, figure.p90, figure.open_ended, page.units())});
      }
    }
  return table;
}

Table works_table(const Page& page, const PlausibleStudy& study) {
  Table table{
      "In how many soils each design meets the target", {"design", "works in", "the answer turns"}, {}, {2}};
  for (const results::PlausibleDesign& design : study.designs) {
    std::string in = std::to_string(design.count) + " of " + std::to_string(study.draws);
    if (study::is_weighted(study)) in += " (" + percent(design.share) + " of the weight)";
    std::string turns = study::flip_phrase(design, study, page.site());
    if (turns.empty())
      turns = design.count == 0             ? "fails in all of them"
              : design.count == study.draws ? "works in all of them"
                                            : "at no value of one input alone";
    table.rows.push_back({design.name, in, turns});
  }
  return table;
}

Table share_table(const Page& page, const PlausibleStudy& study, const PlausibleFigure& figure) {
  Table table{"Where the spread of the hours of '" + figure.place + "' comes from, " + figure.design,
              {"input", "low (P10)", "likely", "high (P90)", "share of the spread", "higher means"},
              {},
              {5}};
  for (std::size_t k = 0; k < study.inputs.size(); ++k) {
    const results::PlausibleInput& input = study.inputs[k];
    const auto text = [&](double value) { return study::value_text(input, value, page.site()); };
    table.rows.push_back(
        {input.name, text(input.low), text(input.likely), text(input.high),
         percent(std::max(0.0, figure.shares[k].share)), // a regression may end a little below
         figure.shares[k].share < 0.05  ? "hardly matters"
         : figure.shares[k].partial > 0 ? "stands longer"
                                        : "clears sooner"});
  }
  return table;
}

Table test_table(const PlausibleStudy& study, const std::string& recommended) {
  Table table{
      "What would narrow the answer",
      {"test", "work", "what it measures is known within a factor of", "the hours within a factor of", ""},
      {},
      {4}};
  const auto change = [](double now, double then) {
    return fixed(now, 1) + " now, " + fixed(then, 1) + " with it";
  };
  // Of hours that outlast the simulated time it is not known how far they spread.
  const PlausibleFigure* hours = study::hours_to_narrow(study, recommended);
  const bool known = hours == nullptr || !hours->open_ended;
  for (const results::NextTest& test : study.tests)
    table.rows.push_back(
        {test.name, clock_text(test.minutes * 60), change(test.factor_now, test.factor_then),
         known ? change(test.answer_now, test.answer_then) : "over " + fixed(test.answer_now, 1) + " now",
         (test.next ? "do this next. " : "") + test.how});
  return table;
}

Table seen_table(const PlausibleStudy& study) {
  Table table{"What was seen, and what the soils make of it",
              {"seen", "stood", "soils: least", "middle", "most"},
              {},
              {}};
  for (const results::PlausibleSeen& one : study.seen) {
    std::vector<double> sorted = one.simulated;
    std::sort(sorted.begin(), sorted.end());
    table.rows.push_back({one.name, hours_text(one.hours), hours_text(sorted.front()),
                          hours_text(sorted[sorted.size() / 2]), hours_text(sorted.back())});
  }
  return table;
}

// How the quick runs of the draws differ from the main ones where both can be compared.
std::string difference(const Page& page, const PlausibleStudy& study) {
  double least = 1e300, most = 0;
  for (const PlausibleFigure& figure : study.figures)
    if (figure.factor != 1) least = std::min(least, figure.factor), most = std::max(most, figure.factor);
  std::string text =
      std::to_string(study.draws) + " soils, drawn with seed " + std::to_string(study.seed) +
      " from the low, likely and high values of the site file, each the same for every design: " +
      std::to_string(study.runs) + " runs on cells of " +
      site::written(study.cell, Dimension::length, page.site()) +
      (study.method == "routed" ? ", water routed from pool to pool. " : ". ");
  if (most > 0)
    text += "At the likely values the main run finds " + fixed(least, 2) +
            (most - least > 0.005 ? " to " + fixed(most, 2) : "") +
            " times the hours of these quicker runs; the hours of all soils were multiplied by that, place "
            "by place.";
  else
    text += "At the likely values the quicker runs find the same hours as the main run.";
  return text;
}

} // namespace

std::string plausible_section(const Page& page) {
  const PlausibleStudy& study = page.comparison().plausible;
  if (study.draws == 0) return "";
  std::string html = "<p class=\"sentence\">" + escape(study.sentence) + "</p>\n";
  html += list(study.notes) + band_chart(page, study) + table_html(works_table(page, study));
  std::string chosen = page.comparison().verdict.design;
  const PlausibleFigure* hours = study::worst_standing(study, chosen);
  if (!hours || hours->p50 < 1) hours = study::worst_standing(study, "as is");
  if (hours && !study.inputs.empty()) html += table_html(share_table(page, study, *hours));
  html += "<div class=\"only-screen\">";
  if (!study.tests.empty()) html += table_html(test_table(study, page.comparison().verdict.design));
  if (!study.seen.empty()) html += table_html(seen_table(study));
  html += table_html(figure_table(page, study)) + paragraph(difference(page, study)) + "</div>\n";
  return html +
         paragraph(
             "Low, middle and high: one soil in ten lies below the low figure, half below the middle one, "
             "nine "
             "in ten below the high one. The share of the spread is that of a regression on ranks; with few "
             "draws a share below a tenth may be chance.");
}

} // namespace lowspot::report
