// The answer first: one sentence, and the figure that matters for each design.
#include <lowspot/base/text.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/key_figures.hpp>
#include <lowspot/report/missed_hours.hpp>
#include <lowspot/report/sections.hpp>
#include <lowspot/results/target.hpp>
#include <lowspot/study/limits_not_kept.hpp>

namespace lowspot::report {
namespace {

// What lasts when the simulated time ends is said to be more; what has not lasted too long so far may still.
std::string found_text(const results::Judged& miss) {
  if (!miss.open_ended) return missed_hours(miss.found / 3600, miss.limit / 3600);
  const std::string text = open_hours_text(miss.found / 3600, true, "less than 1 h");
  return miss.found > miss.limit ? text : text + " up to the end of the simulated time";
}

std::string card(const results::DesignRecord& design, const results::Comparison& all, const Units& units) {
  // Of the wettest spot where no area is judged: a yard without areas is judged as well.
  const results::Standing slowest = results::longest_standing(design, all.clear_within, all.end_of_rain);
  const bool chosen = design.name == all.verdict.design;
  std::string html = chosen ? "<li class=\"card chosen\">" : "<li class=\"card\">";
  html += "<h3>" + escape(design.name) + "</h3>";
  const bool dry = slowest.hours <= 0 && !slowest.still;
  html += "<p class=\"figure\">" +
          escape(dry ? "0 h" : judged_hours(slowest.hours, slowest.still, all.clear_within)) + "</p><p>" +
          escape(dry ? "no water stands after the rain" : slowest.place + " stands after the rain") + "</p>";
  const double target = all.clear_within / 3600;
  const double share = target > 0 ? std::min(1.0, slowest.hours / (2 * target)) : 0;
  html += "<div class=\"bar\" aria-hidden=\"true\"><span style=\"width:" + fixed(100 * share, 0) +
          "%\"></span></div>";
  if (const std::string depth = depth_caption(design, units); !depth.empty())
    html += "<p class=\"quiet\">" + escape(depth) + "</p>";
  html += results::clears(design, all.clear_within, all.end_of_rain)
              ? "<p class=\"met\">\u2713 clears within the target</p>"
              : "<p class=\"unmet\">\u2717 does not clear within the target</p>";
  for (const results::Judged& miss : results::misses(all, design))
    if (miss.promise != results::Promise::standing)
      html += "<p class=\"unmet\">\u2717 " + escape(miss.place) +
              (miss.promise == results::Promise::soggy_bed ? ": roots soggy, rain included, for "
                                                           : " short of water for ") +
              escape(found_text(miss)) + ", agreed " + escape(hours_text(miss.limit / 3600)) + "</p>";
  if (const std::string misses = study::not_kept_words(study::limits_not_kept(all, design)); !misses.empty())
    html += "<p class=\"unmet\">\u2717 " + escape(misses) + "</p>";
  return html + "</li>\n";
}

} // namespace

std::string verdict_section(const Page& page) {
  const results::Comparison& all = page.comparison();
  std::string html = "<p class=\"sentence\">" + escape(all.verdict.sentence) + "</p>\n<ul class=\"cards\">\n";
  for (const results::DesignRecord& design : all.designs) html += card(design, all, page.units());
  html += "</ul>\n<p class=\"quiet\">Water counts as standing when it is deeper than ";
  html += escape(amount(all.standing_depth, page.units().depth)) + ". The target: clear within ";
  html += escape(rounded(all.clear_within / 3600, 3)) + " h after the rain ends (the middle of each bar).";
  return html + "</p>\n"; // what limits the drain is said in the sentence
}

} // namespace lowspot::report
