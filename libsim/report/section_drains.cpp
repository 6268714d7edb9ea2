// What each run carries, what limits it, and its profile.
#include <algorithm>
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/key_figures.hpp>
#include <lowspot/report/map_works.hpp>
#include <lowspot/report/sections.hpp>
#include <lowspot/report/svg_profile.hpp>

namespace lowspot::report {
namespace {

std::string limits(const results::DrainRecord& drain) {
  std::string text = drain.limited_by.empty() ? "nothing" : drain.limited_by;
  if (!drain.limit_hours.empty() && drain.limit_hours.front().second > 0)
    text += " (" + hours_text(drain.limit_hours.front().second) + ")";
  return text;
}

Table drain_table(const Page& page) {
  const Units& units = page.units();
  Table table{"Runs at the peak",
              {"run", "design", "most it carries, " + units.flow.name, "most it can, " + units.flow.name,
               "share of its capacity", "pipe overfull for", "carried in all, " + units.volume.name,
               "limited by"},
              {},
              {1, 7}};
  for (const results::DesignRecord& design : page.comparison().designs)
    for (const results::DrainRecord& drain : design.drains)
      table.rows.push_back(
          {drain.name, design.name, figure(drain.peak_flow, units.flow),
           figure(drain.full_flow_capacity, units.flow),
           drain.full_flow_capacity > 0 ? percent(drain.peak_flow / drain.full_flow_capacity) : "\u2013",
           drain.surcharged > 0 ? clock_text(drain.surcharged) : "never",
           figure(drain.volume_out, units.volume), limits(drain)});
  return table;
}

Table build_table(const Page& page) {
  const Units& units = page.units();
  Table table{"What is laid",
              {"run", "design", "pipe", "length, " + units.length.name, "least fall",
               "trench, " + units.depth.name, "stone", "fabric", "cap"},
              {},
              {1, 2, 5, 6, 7, 8}};
  for (const results::DesignRecord& record : page.comparison().designs) {
    const site::Design* design = works_of(page.site(), record);
    if (design == nullptr) continue;
    for (const site::Run& run : design->runs) {
      const double fall = fall_of(run, record);
      std::string trench = run.has_trench ? figure(run.trench_width, units.depth) + " wide" : "backfilled";
      if (run.has_trench && run.trench_depth > 0)
        trench += ", " + figure(run.trench_depth, units.depth) + " deep at the head";
      const auto named = [&](const std::string& name) {
        return run.has_trench && !name.empty() ? name : "\u2013";
      };
      table.rows.push_back({run.name, record.name, run.pipe.name, figure(length(run.path), units.length, 3),
                            std::isfinite(fall) ? rounded(100 * fall, 2) + " %" : "\u2013", trench,
                            named(run.stone.name), named(run.fabric.name), named(run.cap.name)});
    }
  }
  return table;
}

// Pits and pump basins: how full they become and when they are empty again.
Table pit_table(const Page& page) {
  const Units& units = page.units();
  Table table{"Pits and pump basins",
              {"pit", "design", "kind", "room, " + units.volume.name, "most in it, " + units.volume.name,
               "full to", "emptied"},
              {},
              {1, 2, 6}};
  for (const results::DesignRecord& record : page.comparison().designs) {
    const site::Design* design = works_of(page.site(), record);
    if (design == nullptr) continue;
    for (const site::Outlet& outlet : design->outlets)
      for (const results::VesselRecord& vessel : record.vessels) {
        const double room = outlet.well.plan * outlet.well.depth * outlet.well.void_share;
        if (vessel.name != outlet.name || !(room > 0)) continue;
        const std::string emptied = emptied_text(record, outlet.name);
        table.rows.push_back({outlet.name, record.name, outlet.kind, figure(room, units.volume),
                              figure(vessel.highest_stored, units.volume),
                              percent(std::min(1.0, vessel.highest_stored / room)),
                              outlet.kind == "pump" ? "by its pump"
                              : emptied.empty()     ? "\u2013"
                                                    : emptied});
      }
  }
  return table;
}

std::string in_words(const std::vector<std::pair<std::string, double>>& shares) {
  std::string text;
  for (const auto& [member, share] : shares)
    if (share >= 0.05) text += (text.empty() ? "" : ", ") + member + " " + percent(share);
  return text.empty() ? "\u2013" : text;
}

// Where the head goes that drives water through each run, and how far its trench reaches.
Table chain_table(const Page& page) {
  const Units& units = page.units();
  Table table{
      "What holds the water back: shares of the head lost along the way from the ground to the outlet",
      {"run", "design", "while it rains", "as it dries",
       "perched water lowered by half to the left / right of the trench, " + units.length.name},
      {},
      {1, 2, 3}};
  for (const results::DesignRecord& design : page.comparison().designs)
    for (const results::DrainRecord& drain : design.drains) {
      if (drain.lost_in_storm.empty() && drain.lost_in_drying.empty()) continue;
      const bool known = std::isfinite(drain.reach.time);
      table.rows.push_back(
          {drain.name, design.name, in_words(drain.lost_in_storm), in_words(drain.lost_in_drying),
           known ? figure(drain.reach.left, units.length) + " / " + figure(drain.reach.right, units.length)
                 : "\u2013"});
    }
  return table;
}

std::string profiles(const Page& page, const results::DesignRecord& design) {
  const site::Design* works = works_of(page.site(), design);
  std::string html;
  for (results::RunProfileRecord profile : design.profiles) {
    // Pipe laid in backfill has no stone to draw, though its trench was recorded.
    if (works != nullptr)
      for (const site::Run& run : works->runs)
        if (run.name == profile.run && !run.has_trench) profile.stone_top.clear();
    const std::string svg = profile_svg(profile, page.units());
    if (svg.empty()) continue;
    html += "<figure><figcaption>" + escape(design.name) + ": profile of " + escape(profile.run) +
            ", head on the left, heights drawn larger than lengths</figcaption>" + svg + "</figure>\n";
  }
  return html;
}

} // namespace

std::string drains_section(const Page& page) {
  Table works = build_table(page), carried = drain_table(page);
  shorten_on_paper(page, 1, works);
  shorten_on_paper(page, 1, carried);
  std::string html;
  if (!works.rows.empty()) html += table_html(works);
  if (!carried.rows.empty()) html += table_html(carried);
  Table pits = pit_table(page);
  shorten_on_paper(page, 1, pits);
  // On paper, where only the design that is proposed is shown, it may have no pit.
  const bool on_paper = pits.screen_rows.size() < pits.rows.size();
  if (!pits.rows.empty())
    html += on_paper ? table_html(pits) : "<div class=\"only-screen\">" + table_html(pits) + "</div>\n";
  if (const Table chain = chain_table(page); !chain.rows.empty())
    html +=
        "<div class=\"only-screen\">" + table_html(chain) +
        paragraph("Soil counts while no water stands on the trench. Left and right are seen from the head "
                  "towards the foot; the reach is that of a day after the rain, against the yard as it is.") +
        "</div>\n";
  // The design that is proposed first, the others folded away.
  const std::string proposed = design_on_paper(page);
  for (const bool chosen : {true, false})
    for (const results::DesignRecord& design : page.comparison().designs) {
      if ((design.name == proposed) != chosen) continue;
      const std::string drawn = profiles(page, design);
      if (drawn.empty()) continue;
      html += chosen ? drawn
                     : "<details><summary>Profiles of " + escape(design.name) + "</summary>" + drawn +
                           "</details>\n";
    }
  return html;
}

} // namespace lowspot::report
