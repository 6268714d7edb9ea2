#include <lowspot/report/permit_sheet.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/report/disturbed.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/key_figures.hpp>
#include <lowspot/report/limits_alert.hpp>
#include <lowspot/report/map_works.hpp>
#include <lowspot/report/permit_flows.hpp>
#include <lowspot/report/plan_sketch.hpp>
#include <lowspot/report/storm_words.hpp>
#include <lowspot/site/combine.hpp>
#include <lowspot/site/unknowns.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/study/limits_not_kept.hpp>

namespace lowspot::report {
namespace {

constexpr std::size_t most_runs = 5, most_outlets = 3, most_assumed = 9, most_unknowns = 4;
constexpr std::size_t most_distances = 4;
constexpr const char* distance_checks[] = {"well_distance",     "septic_upslope",        "septic_downslope",
                                           "lot_line_distance", "right_of_way_distance", "keep_off"};
constexpr std::size_t comfortable = 14; // lines of tables; more are set in small type

std::string plan(const SheetScene& scene) {
  PlanSketch sketch{scene.map, scene.built != nullptr ? *scene.built : scene.as_is};
  sketch.fall_arrows = true;
  sketch.room = {300, 280};
  return "<figure class=\"sketch plan\"><img alt=\"Plan to scale: lot outline, buildings, areas, ground "
         "contours "
         "with elevations, arrows the way the ground falls, and the works.\" src=\"" +
         png_source(sketch_png(sketch)) +
         "\"><figcaption>Arrows: the way the ground falls. Thin lines: ground of one elevation, in " +
         escape(scene.units().elevation.name) + ".</figcaption></figure>\n";
}

// Hard ground and roofs [m2]; no design of ours paves anything.
double impervious_area(const SheetScene& scene) {
  double sum = 0;
  for (std::size_t a = 0; a < scene.ground.areas.size() && a < scene.site().areas.size(); ++a)
    if (scene.site().areas[a].impervious)
      for (const double share : scene.ground.areas[a].fractions) sum += share * scene.ground.grid.cell_area();
  for (const site::Building& building : scene.site().buildings) sum += area(building.outline);
  return sum;
}

std::string storm_text(const SheetScene& scene) {
  const results::Comparison& all = scene.comparison();
  const site::Storm& storm = scene.site().storm;
  std::string text = storm_words(scene.site(), all, scene.units()) + ", pattern " + storm.pattern +
                     ", at most " + amount(all.storm_peak_intensity, scene.units().rain);
  if (!storm.table.empty()) {
    text += (std::isfinite(storm.depth) ? "; the depth as stated, its shape from " : "; from ") +
            short_name(storm.table, 30);
    if (storm.comes_by_period()) text += ", return period " + rounded(storm.return_period, 3) + " years";
  } else if (!storm.gauge.empty()) {
    text += "; from the gauge record " + short_name(storm.gauge, 30);
  } else {
    text += "; stated in the site file";
  }
  return text + later_storms_words(scene.site(), scene.units());
}

std::string soils_text(const SheetScene& scene) {
  std::string text;
  for (const site::Soil& soil : scene.site().soils) {
    if (&soil - scene.site().soils.data() == 2) break;
    text += (text.empty() ? "" : ". ") + short_name(soil.name, 20) + ": " + soil.texture + ", topsoil " +
            site::written(soil.depth.likely, Dimension::length, scene.site()) + " at " +
            site::written(soil.conductivity, Dimension::speed, scene.site()) + "; tight layer " +
            site::written(soil.tight_conductivity, Dimension::speed, scene.site());
  }
  return text;
}

std::string facts(const SheetScene& scene) {
  const Units& units = scene.units();
  const double lot = area(scene.site().outline), hard = impervious_area(scene);
  Table table{"The site", {"what", "figure"}, {}, {1}};
  table.rows.push_back({"ground computed", amount(lot, units.area, 4)});
  const std::string paved = amount(hard, units.area, 4) + " (" + percent(lot > 0 ? hard / lot : 0) + ")";
  table.rows.push_back({"impervious before and after", paved + ", unchanged"});
  table.rows.push_back({"ground disturbed", amount(disturbed_area(scene), units.area, 3)});
  table.rows.push_back({"storm", storm_text(scene)});
  table.rows.push_back({"soil", soils_text(scene)});
  table.rows.push_back({"datum", scene.site().crs.empty()
                                     ? "the site file's own; local grid"
                                     : "the site file's; grid " + short_name(scene.site().crs, 30)});
  return "<div class=\"facts\">" + table_html(table) + "</div>";
}

double to_line(const Polygon& outline, const Point& at) {
  Polyline closed = outline;
  if (!closed.empty()) closed.push_back(closed.front());
  return distance_to(closed, at);
}

// Elevation of an outlet's invert [m]: where the run that ends there ends.
double outlet_invert(const SheetScene& scene, const site::Outlet& outlet) {
  // As the crew digs it, where it is dug: stations count from the outlet.
  if (scene.cut != nullptr)
    for (const job::CutRun& run : scene.cut->runs)
      if (!run.stations.empty() && run.to == outlet.name) return run.stations.front().invert;
  for (const site::Run& run : scene.design->runs)
    if (run.to == outlet.name)
      for (const results::RunProfileRecord& profile : scene.built->profiles)
        if (profile.run == run.name && !profile.invert.empty()) return profile.invert.back();
  return outlet.invert;
}

std::string outlets(const SheetScene& scene) {
  const Units& units = scene.units();
  std::vector<std::string> items;
  for (const site::Outlet& outlet : scene.design->outlets) {
    std::string text =
        short_name(outlet.name, 28) + ": " + outlet.kind + " at " + site::written(outlet.at, scene.site());
    const double invert = outlet_invert(scene, outlet);
    if (std::isfinite(invert)) text += ", invert " + elevation_text(invert, units);
    // A pump's water comes out where its hose ends: what a neighbour asks is how far off that is.
    if (outlet.kind == "pump") {
      text += std::string("; its hose ends ") + (outlet.discharge
                                                     ? "at " + site::written(*outlet.discharge, scene.site())
                                                     : "outside the ground computed");
      if (!outlet.discharge) {
        items.push_back(text + ".");
        continue;
      }
    }
    const Point end = outlet.kind == "pump" ? *outlet.discharge : outlet.at;
    // A pit is as far off as its edge, as the checks measure it.
    const double rim = outlet.kind == "dry well" ? std::sqrt(outlet.well.plan / M_PI) : 0;
    const double away = to_line(scene.site().outline, end) - rim;
    const std::string what = rim > 0 ? "its edge " : "";
    text += "; " + what +
            (away < 0.01 ? "on the limit of the ground computed"
                         : amount(away, units.length) + " from the limit of the ground computed");
    double house = 1e300;
    for (const site::Building& building : scene.site().buildings)
      house = std::min(house, to_line(building.outline, end));
    if (house < 1e300)
      text += ", " + amount(std::max(0.0, house - rim), units.length) + " from the nearest building";
    if (scene.built != nullptr)
      if (const std::string emptied = emptied_text(*scene.built, outlet.name); !emptied.empty())
        text += "; " + emptied;
    items.push_back(text + ".");
  }
  if (items.empty()) items.push_back("No outlet: nothing is piped away.");
  return list(at_most(items, most_outlets));
}

std::string pipes(const SheetScene& scene) {
  const Units& units = scene.units();
  Table table{"Pipes, flow in " + units.flow.name,
              {"run", "pipe", "least fall", "carries, full", "most at once", "runs full for"},
              {},
              {1}};
  std::vector<std::pair<double, std::vector<std::string>>> rows; // with how near to full the pipe runs
  for (const site::Run& run : scene.design->runs) {
    const auto drain = std::find_if(scene.built->drains.begin(), scene.built->drains.end(),
                                    [&](const results::DrainRecord& each) { return each.name == run.name; });
    if (drain == scene.built->drains.end()) continue;
    const double full = drain->full_flow_capacity;
    rows.push_back({full > 0 ? drain->peak_flow / full : 0,
                    {short_name(run.name, 20),
                     pipe_size_text(run.pipe, units) + (run.pipe.slot_area > 0 ? " slotted" : " solid"),
                     rounded(100 * fall_of(run, *scene.built), 2) + " %", figure(full, units.flow),
                     figure(drain->peak_flow, units.flow), hours_text(drain->surcharged / 3600)}});
  }
  if (rows.size() > most_runs) // the fullest are asked about
    std::stable_sort(rows.begin(), rows.end(),
                     [](const auto& a, const auto& b) { return a.first > b.first; });
  for (auto& row : rows) table.rows.push_back(std::move(row.second));
  keep_rows(table, most_runs);
  return table.rows.empty() ? "" : table_html(table);
}

std::string assumed(const SheetScene& scene) {
  std::vector<std::string> items;
  // The ground and the storm first: a reviewer asks about those; parts of designs stand in the report.
  for (const auto& item : scene.comparison().defaults)
    if (item[0].rfind("design", 0) != 0 && item[0].rfind("reach", 0) != 0)
      items.push_back(short_name(item[0], 44) + " = " + short_name(item[1], 80) + " [" + item[2] + "]");
  const std::size_t all = scene.comparison().defaults.size();
  const std::size_t shown = std::min(items.size(), most_assumed);
  items.resize(shown);
  std::string html = list(items);
  if (all > shown)
    html +=
        paragraph(std::to_string(all - shown) + " more stand in report.html, under \"What was assumed\".");
  return html;
}

// What the site file gives no place to keep off for: nothing measures a distance to it.
std::string distances_not_given(const SheetScene& scene) {
  std::string text = "distances to ";
  const auto& places = scene.site().keep_offs;
  for (const auto& one : {std::pair("well", "well, "), std::pair("septic field", "septic field, "),
                          std::pair("right of way", "right-of-way and ")}) {
    const std::string kind = one.first;
    if (std::none_of(places.begin(), places.end(), [&](const auto& place) { return place.kind == kind; }))
      text += one.second;
  }
  return text + "sidewalk";
}

// How far the works stay from what the site file says to keep off, those that come too near first.
std::vector<std::string> distances_kept(const SheetScene& scene) {
  std::vector<std::string> items;
  if (scene.built == nullptr) return items;
  for (const auto outcome : {results::CheckOutcome::fail, results::CheckOutcome::pass})
    for (const results::CheckRecord& check : scene.built->checks) {
      const auto& ids = distance_checks;
      if (check.outcome != outcome || std::find(std::begin(ids), std::end(ids), check.id) == std::end(ids))
        continue;
      std::string text = short_name(study::limit_name(check), 44) + ": " + short_name(check.found, 60);
      if (!check.limit.empty()) text += ", limit " + short_name(check.limit, 30);
      items.push_back(as_sentence(text + (outcome == results::CheckOutcome::fail ? ": NOT KEPT" : ": kept")));
    }
  return at_most(items, most_distances);
}

// The checks of the works that lack a figure, by name: what is missing stands beside each in the report.
std::string open_checks(const SheetScene& scene) {
  std::string names;
  if (scene.built == nullptr) return names;
  for (const results::CheckRecord& check : scene.built->checks)
    if (check.outcome == results::CheckOutcome::unknown && check.of_works)
      names += (names.empty() ? "" : "; ") + short_name(study::limit_name(check), 50);
  return names.empty()
             ? names
             : as_sentence("UNKNOWN until measured (see Checks in report.html): " + short_name(names, 220));
}

std::string unknown(const SheetScene& scene) {
  std::vector<std::string> items;
  for (const std::string& item : site::unknowns(scene.site()))
    items.push_back(as_sentence("UNKNOWN: " + short_name(item, 150)));
  const std::string open = open_checks(scene);
  if (!open.empty()) items.insert(items.begin(), open);
  items = at_most(items, most_unknowns, "the answer of lowspot check");
  items.push_back("Not in the site file, to be filled in: " + distances_not_given(scene) +
                  "; easements; wetland or flood limits.");
  return list(items);
}

std::string how_computed(const SheetScene& scene) {
  const results::Comparison& all = scene.comparison();
  const results::DesignRecord& record = scene.built != nullptr ? *scene.built : scene.as_is;
  const double rain = std::max(1e-12, std::abs(record.ledger.rain));
  return "Water on the ground by the " + all.method + " method on cells of " +
         amount(all.grid.cell, scene.units().depth, 3) +
         ", soil by columns, perched water over the tight "
         "layer, drains station by station; likely value of each input, " +
         (all.plausible.draws > 0
              ? std::to_string(all.plausible.draws) + " plausible soils besides, drawn with seed " +
                    std::to_string(all.plausible.seed)
              : std::string("no random draws (no seed)")) +
         ". Water balance of the proposal: " + amount(record.ledger.rain, scene.units().volume, 4) +
         " of rain, not accounted for " +
         (std::abs(record.ledger.closure) / rain < 1e-8
              ? "less than a part in 100 million of it"
              : rounded(100 * std::abs(record.ledger.closure) / rain, 2) + " % of it") +
         ". lowspot " + all.version + ".";
}

} // namespace

std::string permit_sheet_html(const SheetScene& scene) {
  const std::string what = scene.design != nullptr
                               ? as_sentence("Proposed: " + short_name(scene.design->name, 60))
                               : std::string("Nothing is proposed: the yard as it is.");
  std::string body = "<p class=\"big\">" + escape(what) + "</p>\n" + limits_alert(scene);
  body += "<div class=\"cols two\">" + plan(scene) + "<div>" + facts(scene) + "</div></div>\n";
  body += permit_flows(scene);
  if (scene.design != nullptr)
    body += "<div class=\"cols two\">" + part("Where the water is sent", outlets(scene)) + "<div>" +
            pipes(scene) + "</div></div>\n";
  const std::vector<std::string> distances = distances_kept(scene);
  body += "<div class=\"cols two\">" + part("Assumed", assumed(scene)) + "<div>" +
          (distances.empty() ? "" : part("Distances", list(distances))) + part("UNKNOWN", unknown(scene)) +
          part("How it was computed", paragraph(how_computed(scene))) + "</div></div>\n";
  body +=
      "<p><b>Not an engineer's certification unless sealed; not a survey. Rules on turning, speeding up or "
      "concentrating water differ by state and town: the local text governs. Never to a sanitary sewer, "
      "never where it can freeze on a walk.</b></p>\n";
  body += "<div class=\"writes\">" + blank("Locate ticket") + blank("permit no.") +
          blank("grade at the house") + blank("erosion control") +
          blank("overflow if the outlet is blocked") + blank("owner") + blank("date") + blank("seal") +
          "</div>\n";
  const std::size_t lines = limits_lines(scene) + distances.size() + scene.as_is.edges.size() +
                            2 * failed_sides(scene) + scene.as_is.lines.size() +
                            (scene.design == nullptr ? 0
                                                     : 2 * std::min(most_runs, scene.design->runs.size()) +
                                                           scene.design->outlets.size());
  return sheet_html(scene, "For the permit desk: " + short_name(scene.site().name, 60), body,
                    lines > comfortable);
}

} // namespace lowspot::report
