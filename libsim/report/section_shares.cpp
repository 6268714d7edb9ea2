// Where the water of each place comes from, what kind of wet it is, and what a fix could take away at best.
#include <algorithm>

#include <lowspot/base/text.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/sections.hpp>
#include <lowspot/report/share_text.hpp>
#include <lowspot/report/source_colors.hpp>
#include <lowspot/report/svg_bars.hpp>
#include <lowspot/study/kind_of_wet.hpp>
#include <lowspot/study/shares.hpp>

namespace lowspot::report {
namespace {

using results::DesignRecord;
using results::PlaceShares;
using results::SourceShares;

constexpr std::size_t most_low_spots = 5;

// The first design whose sources were followed: the yard as it is, as a rule.
const DesignRecord* followed(const Page& page) {
  for (const DesignRecord& design : page.comparison().designs)
    if (!design.shares.places.empty()) return &design;
  return nullptr;
}

BarChart bar_chart(const SourceShares& shares, std::string title, std::string description) {
  BarChart chart;
  chart.title = std::move(title);
  chart.description = std::move(description);
  for (const results::SourceName& source : shares.sources) chart.parts.push_back(source.name);
  chart.colors = source_colors(shares);
  return chart;
}

std::string place_bars(const Page& page, const SourceShares& shares) {
  BarChart chart = bar_chart(shares, "What each place's water is made of at its fullest",
                             "A bar a place, in parts by source; the figures are in the table below.");
  std::size_t low_spots = 0;
  for (const PlaceShares& place : shares.places) {
    if (place.kind != "area" && place.kind != "low spot") continue;
    if (place.kind == "low spot" && ++low_spots > most_low_spots) continue;
    chart.rows.push_back(
        {place.name, amount(place.peak_volume, page.units().volume) + " at its fullest", place.at_peak});
  }
  const std::string svg = bars_svg(chart);
  if (svg.empty()) return "";
  return "<figure><figcaption>What each place's water is made of at its fullest</figcaption>" + svg +
         "</figure>\n";
}

std::string edge_bars(const Page& page, const SourceShares& shares) {
  BarChart chart = bar_chart(shares, "What leaves over the edges is made of",
                             "A bar a side of the yard, in parts by source.");
  for (const PlaceShares& place : shares.places) {
    if (place.kind != "edge") continue;
    double left = 0;
    for (const double volume : place.left) left += volume;
    chart.rows.push_back({place.name + " edge", amount(left, page.units().volume) + " in all", place.left});
  }
  const std::string svg = bars_svg(chart);
  if (svg.empty()) return "";
  return "<figure><figcaption>What leaves over the edges over the ground</figcaption>" + svg + "</figure>\n";
}

std::string share_table(const Page& page, const SourceShares& shares) {
  const std::string& unit = page.units().volume.name;
  Table table{"Water by source",
              {"place", "source", "share at its fullest", "then, " + unit, "share when the rain ends",
               "arrived in all, " + unit, "ran on, " + unit},
              {},
              {1}};
  std::size_t low_spots = 0;
  for (const PlaceShares& place : shares.places) {
    if (place.kind == "edge" || (place.kind == "low spot" && ++low_spots > most_low_spots)) continue;
    double at_end = 0;
    for (const double volume : place.at_rain_end) at_end += volume;
    for (const study::SharePart& part : study::largest_first(shares, place.at_peak)) {
      if (part.share < 0.005) continue;
      const auto source = static_cast<std::size_t>(
          std::find_if(shares.sources.begin(), shares.sources.end(),
                       [&](const results::SourceName& each) { return each.name == part.source; }) -
          shares.sources.begin());
      table.rows.push_back({place.name, part.source, share_text(part.share),
                            figure(part.volume, page.units().volume),
                            at_end > 0 ? share_text(place.at_rain_end[source] / at_end) : "none",
                            figure(place.arrived[source], page.units().volume),
                            figure(place.left[source], page.units().volume)});
    }
  }
  return table.rows.empty() ? "" : table_html(table);
}

std::string wet_places_text(const Page& page, const DesignRecord& record) {
  std::string html;
  for (const study::WetPlace& place :
       study::judge_wet_places(page.site(), page.comparison(), record, most_low_spots)) {
    if (place.wet == study::Wet::no) continue;
    html += "<h4>" + escape(place.name) + ": " + escape(study::wet_name(place.wet)) + "</h4>\n";
    std::string said = place.finding;
    if (const PlaceShares* shares = study::find_place(record.shares, place.kind, place.name))
      said += " " + study::shares_sentence(record.shares, *shares);
    html += paragraph(said);
    html += paragraph("To be sure: " + place.test);
    std::vector<std::string> fixes;
    for (const study::BestFix& fix : place.fixes)
      if (fix.share >= 0.02) fixes.push_back(share_text(fix.share) + " at best: " + fix.what + ".");
    if (!fixes.empty()) html += list(fixes);
  }
  return html;
}

} // namespace

std::string shares_section(const Page& page) {
  const DesignRecord* record = followed(page);
  if (!record) return "";
  std::string html = place_bars(page, record->shares);
  if (!page.pictures.sources.empty())
    html += "<figure class=\"paper only-screen\"><img alt=\"Map of the yard: in each wet spot the source "
            "that gave most "
            "of its water. "
            "The table below has the figures.\" src=\"" +
            png_source(page.pictures.sources) + "\"></figure>\n";
  html += "<div class=\"only-screen\">" + wet_places_text(page, *record) + share_table(page, record->shares) +
          edge_bars(page, record->shares) + "</div>\n";
  return html +
         paragraph("Shares are of the water on the ground. What soaks in loses its name: when it comes up "
                   "again it counts as water rising out of the soil. What runs back and forth over the limit "
                   "of a place arrives each time. \"At best\" is the share of the water "
                   "that a fix can keep away, not of the hours: what is left of a puddle stands "
                   "longest.");
}

} // namespace lowspot::report
