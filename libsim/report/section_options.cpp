// Every option in one ranked table, doing nothing among them.
#include <algorithm>
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/sections.hpp>
#include <lowspot/report/tune_words.hpp>

namespace lowspot::report {
namespace {

using results::OptionRecord;

std::string hours_or_more(double hours, bool more) {
  return (more ? "over " : "") + hours_text(hours);
}

std::string joined(const std::vector<std::string>& words, const std::string& otherwise) {
  std::string text;
  for (const std::string& one : words) text += (text.empty() ? "" : "; ") + one;
  return text.empty() ? otherwise : text;
}

Table ranked(const Page& page) {
  const std::vector<OptionRecord>& options = page.comparison().options;
  const Units& units = page.units();
  const bool priced =
      std::any_of(options.begin(), options.end(), [](const auto& one) { return std::isfinite(one.cost); });
  const bool beds = std::any_of(options.begin(), options.end(), [](const auto& one) { return one.beds > 0; });
  Table table{"Options, the one to look at first on top",
              {"option", "does it do?", "water stands", "ground soggy"},
              {},
              {1}};
  if (beds) table.head.insert(table.head.end(), {"a bed soggy", "a bed short of water"});
  table.head.insert(table.head.end(),
                    {"trench, " + units.length.name, "to dig, " + dig_unit(page.site()).name});
  if (priced) table.head.push_back("cost, " + page.site().ordering.currency);
  for (const OptionRecord& one : options) {
    std::vector<std::string> row = {one.name,
                                    one.works ? "\u2713 yes" : "\u2717 " + joined(one.not_kept, "no"),
                                    hours_or_more(one.standing_hours, one.still_standing),
                                    hours_or_more(one.soggy_hours, one.still_soggy)};
    if (beds) row.insert(row.end(), {hours_text(one.bed_soggy_hours), hours_text(24 * one.bed_dry_days)});
    row.push_back(figure(one.dig_length, units.length));
    row.push_back(figure(one.dig_volume, dig_unit(page.site())));
    if (priced)
      row.push_back(
          figure(one.cost, Unit{1, ""}, 4) +
          (one.without_price > 0 ? " (" + std::to_string(one.without_price) + " items unpriced)" : ""));
    table.rows.push_back(std::move(row));
  }
  return table;
}

// What goes over each side, before and after: what a neighbour would ask.
Table leaving(const Page& page) {
  const Units& units = page.units();
  Table table{"What leaves over each side, as it is and with each option",
              {"side", "option", "most at once, " + units.flow.name, "as it is",
               "in all, " + units.volume.name, "as it is"},
              {},
              {1}};
  for (const OptionRecord& one : page.comparison().options)
    for (const results::OptionEdge& edge : one.edges)
      if (one.name != page.comparison().designs.front().name && (edge.volume > 0 || edge.volume_before > 0))
        table.rows.push_back({edge.side, one.name, figure(edge.peak, units.flow),
                              figure(edge.peak_before, units.flow), figure(edge.volume, units.volume, 3),
                              figure(edge.volume_before, units.volume, 3)});
  return table;
}

} // namespace

std::string options_section(const Page& page) {
  const std::vector<OptionRecord>& options = page.comparison().options;
  if (options.size() < 2) return "";
  std::string html = table_html(ranked(page));
  std::vector<std::string> upkeep;
  for (const OptionRecord& one : options)
    if (!one.upkeep.empty()) upkeep.push_back(one.name + ": " + joined(one.upkeep, "") + ".");
  if (!upkeep.empty()) html += paragraph("What each asks for afterwards:") + list(upkeep);
  Table sides = leaving(page);
  shorten_on_paper(page, 1, sides);
  if (!sides.rows.empty()) html += table_html(sides);
  return html;
}

} // namespace lowspot::report
