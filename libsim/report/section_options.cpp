// Every option in one ranked table, doing nothing among them.
#include <algorithm>
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/key_figures.hpp>
#include <lowspot/report/map_works.hpp>
#include <lowspot/report/sections.hpp>
#include <lowspot/report/takeoff_table.hpp>
#include <lowspot/report/tune_words.hpp>
#include <lowspot/report/volume_figure.hpp>
#include <lowspot/results/side_flows.hpp>
#include <lowspot/study/limits_not_kept.hpp>
#include <lowspot/study/options.hpp>

namespace lowspot::report {
namespace {

using results::OptionRecord;

std::string joined(const std::vector<std::string>& words, const std::string& otherwise) {
  std::string text;
  for (const std::string& one : words) text += (text.empty() ? "" : "; ") + one;
  return text.empty() ? otherwise : text;
}

// Whether the bed whose roots are soggy longest is still so when the simulated time ends.
bool bed_still_soggy(const OptionRecord& one, const results::Comparison& all) {
  for (const results::DesignRecord& design : all.designs)
    for (const results::BedRecord& bed : design.beds)
      if (design.name == one.name && bed.still_soggy && bed.soggy_hours >= one.bed_soggy_hours) return true;
  return false;
}

// What it does, and which limits its works do not keep.
std::string does_it(const OptionRecord& one, const results::Comparison& all) {
  std::string text = one.works ? "\u2713 yes" : "\u2717 " + joined(one.not_kept, "no");
  std::vector<std::string> limits;
  for (const results::DesignRecord& design : all.designs)
    if (design.name == one.name)
      for (const results::CheckRecord& check : study::limits_not_kept(all, design))
        limits.push_back(study::limit_name(check));
  if (!limits.empty()) text += "; limits not kept: " + joined(limits, "");
  return text;
}

Table ranked(const Page& page) {
  const std::vector<OptionRecord>& options = page.comparison().options;
  const Units& units = page.units();
  const bool priced =
      std::any_of(options.begin(), options.end(), [](const auto& one) { return std::isfinite(one.cost); });
  const bool beds = std::any_of(options.begin(), options.end(), [](const auto& one) { return one.beds > 0; });
  Table table{std::string("Options: first what does it and keeps the limits, then ") +
                  (study::priced_alike(options) ? "the cheaper" : "what takes less digging"),
              {"option", "does it do?", "water stands after rain", "ground soggy after rain"},
              {},
              {1}};
  if (beds) table.head.insert(table.head.end(), {"roots soggy in all", "a bed short of water"});
  table.head.insert(table.head.end(),
                    {"trench, " + units.length.name, "to dig, " + dig_unit(page.site()).name});
  if (priced) table.head.push_back("cost, " + page.site().ordering.currency);
  for (const OptionRecord& one : options) {
    std::vector<std::string> row = {
        one.name, does_it(one, page.comparison()),
        judged_hours(one.standing_hours, one.still_standing, page.comparison().clear_within),
        open_hours_text(one.soggy_hours, one.still_soggy, still_soggy)};
    if (beds)
      row.insert(row.end(),
                 {open_hours_text(one.bed_soggy_hours, bed_still_soggy(one, page.comparison()), still_soggy),
                  hours_text(24 * one.bed_dry_days)});
    row.push_back(figure(one.dig_length, units.length));
    row.push_back(figure(one.dig_volume, dig_unit(page.site())));
    if (priced)
      row.push_back(sum_figure(one.cost) +
                    (one.without_price > 0
                         ? " (" + std::to_string(one.without_price) +
                               (one.without_price == 1 ? " item unpriced)" : " items unpriced)")
                         : ""));
    table.rows.push_back(std::move(row));
  }
  return table;
}

// What goes over each side, before and after, the water of outlets there included: what a neighbour would
// ask.
Table leaving(const Page& page) {
  const Units& units = page.units();
  const results::Comparison& all = page.comparison();
  Table table{"What leaves over each side, outlets there included, as it is and with each option",
              {"side", "option", "most at once, " + units.flow.name, "as it is",
               "over the edge, " + units.volume.name, "by outlets there", "together", "as it is"},
              {},
              {1}};
  if (all.designs.empty()) return table;
  const auto flows = [&](const results::DesignRecord& design) {
    return results::side_flows(page.site(), works_of(page.site(), design), design, all.grid.cell);
  };
  const std::vector<results::SideFlow> before = flows(all.designs.front());
  for (const OptionRecord& one : all.options) {
    const auto design = std::find_if(all.designs.begin() + 1, all.designs.end(),
                                     [&](const auto& each) { return each.name == one.name; });
    if (design == all.designs.end()) continue;
    const std::vector<results::SideFlow> after = flows(*design);
    for (std::size_t k = 0; k < after.size(); ++k) {
      const results::SideFlow now = k < before.size() ? before[k] : results::SideFlow{};
      if (after[k].volume() <= 0 && now.volume() <= 0) continue;
      table.rows.push_back({after[k].side.empty() ? "outlets at no side" : after[k].side, one.name,
                            figure(after[k].peak(), units.flow), figure(now.peak(), units.flow),
                            volume_figure(after[k].edge_volume, units.volume),
                            volume_figure(after[k].piped_volume, units.volume),
                            volume_figure(after[k].volume(), units.volume),
                            volume_figure(now.volume(), units.volume)});
    }
  }
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
