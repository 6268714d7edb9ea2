#include <lowspot/report/crew_sheet.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/job/bottom_steps.hpp>
#include <lowspot/job/deepest.hpp>
#include <lowspot/job/rod_text.hpp>
#include <lowspot/report/crew_meets.hpp>
#include <lowspot/report/foot_words.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/limits_alert.hpp>
#include <lowspot/report/plan_sketch.hpp>
#include <lowspot/report/takeoff_table.hpp>
#include <lowspot/report/tune_words.hpp>
#include <lowspot/report/work_levels.hpp>
#include <lowspot/site/combine.hpp>
#include <lowspot/site/rule_length.hpp>
#include <lowspot/site/trench_rules.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/terrain/levels.hpp>

namespace lowspot::report {
namespace {

constexpr std::size_t most_rows = 26, one_column = 12; // of the cut table
constexpr std::size_t most_runs = 4, most_materials = 24, most_ties = 8, most_works = 6;
// Lines from which on type is small, smaller still, and the plan smaller, too: one sheet must do.
constexpr std::size_t comfortable = 23, crowded = 38, full = 46, letters_beside = 55; // half a line

std::size_t rows_of(const job::CutSheet& sheet) {
  std::size_t rows = 0;
  for (const job::CutRun& run : sheet.runs) rows += run.stations.size() + 1;
  return rows;
}

job::RodUnit rod_unit(const SheetScene& scene) {
  return scene.units().metric ? job::RodUnit::millimetres : job::RodUnit::eighths;
}
std::string rod(const SheetScene& scene, double metres) {
  return job::rod_text(metres, rod_unit(scene));
}

// What a long tape reads: to a centimetre, where the rod has millimetres.
std::string tape(const SheetScene& scene, double metres) {
  return scene.units().metric ? fixed(metres, 2) + " m" : rod(scene, metres);
}

std::string sketch(const SheetScene& scene, const std::vector<job::Corner>& corners) {
  PlanSketch plan{scene.map, *scene.built, scene.cut, corners};
  return "<figure class=\"sketch crew\"><img alt=\"Plan of the yard with the pipes to be laid, stations "
         "counted "
         "from the foot, and lettered corners to measure from.\" src=\"" +
         png_source(sketch_png(plan)) + "\"></figure>\n";
}

std::string rule(const SheetScene& scene, double feet) {
  return site::rule_length(feet, !scene.units().metric);
}

std::string before_digging(const SheetScene& scene) {
  const double deepest = job::deepest_dug(*scene.cut, *scene.design);
  std::vector<std::string> items = {
      "Utilities located, marks fresh? Dig by hand beside them. Private lines (sprinklers, gas to a grill, "
      "lights, dog fence) are not marked by the public service.",
      "Stay outside a line falling at 45 degrees from the bottom of any footing.",
      "Spoil and machines " + rule(scene, 2) + " from the edge. Never enter a wet trench alone.",
      "Roots: ask before cutting any thicker than a thumb."};
  const site::TrenchRule way_out = site::way_out_from(scene.site()),
                         protect = site::protected_from(scene.site());
  if (deepest >= protect.depth)
    items.insert(items.begin(), protect.written +
                                    " deep or more in places: nobody enters without a protective "
                                    "system chosen by a competent person.");
  else if (deepest >= way_out.depth)
    items.insert(items.begin(),
                 way_out.written + " deep or more in places: a way out within " + rule(scene, 25) + ".");
  return "<div class=\"alert\">" + list(items) + "<div class=\"writes\">" + blank("Locate ticket") +
         blank("valid until") + "</div></div>";
}

// The benchmark that the levels of the yard hang on, or room to write one down.
std::string benchmark(const site::Site& site, const Units& units) {
  try {
    if (site.ground.levels.empty()) return blank("Benchmark") + blank("elevation");
    for (const terrain::SetUp& set_up : terrain::read_levels(site).set_ups)
      if (set_up.from_known)
        return "<span>Benchmark of the levels: <b>" + escape(short_name(set_up.on, 24)) +
               "</b></span> <span>elevation <b>" +
               escape(elevation_text(set_up.instrument - set_up.backsight, units)) + "</b></span> ";
  } catch (const InputError&) {
    // The table was moved since it was run: the page is complete without it.
  }
  return blank("Benchmark") + blank("elevation");
}

std::string level_boxes(const SheetScene& scene) {
  return "<div class=\"writes\">" + benchmark(scene.site(), scene.units()) + blank("+ backsight") +
         blank("= HI") + "</div>" +
         paragraph(
             "Rod on the trench bottom = HI less the bottom in the table. A new set-up needs a new HI.");
}

// What each run is made of, from the bottom up.
std::string trench_text(const SheetScene& scene, const job::CutRun& run) {
  std::string text = short_name(run.name) + ": ";
  text += run.pipe.empty() ? "no pipe" : short_name(run.pipe);
  text += ", " + amount(run.length, scene.units().length, 3) + ", falls at least " +
          rounded(100 * run.least_fall, 2) + " %; trench " + job::width_text(run.width, rod_unit(scene)) +
          " wide, up to " + unbroken(rod(scene, run.deepest)) + " deep, invert " +
          job::width_text(run.bedding, rod_unit(scene)) + " above its bottom";
  for (const site::Run& each : scene.design->runs) {
    if (each.name != run.name) continue;
    if (!each.has_trench) {
      if (each.bedding > 0) text += "; on a bed of stone, earth around and over it";
      continue;
    }
    text += "; stone " + short_name(each.stone.name);
    if (each.fabric.permittivity > 0)
      text += ", fabric " + short_name(each.fabric.name) +
              (each.cap.of_stone ? " under it and up its sides, open at the top" : " lapped over it");
    text += "; on top " + short_name(each.cap.name);
    if (each.cap.depth > 0) text += ", " + job::width_text(each.cap.depth, rod_unit(scene));
  }
  return text + ".";
}

std::string trenches(const SheetScene& scene) {
  std::vector<std::string> items;
  for (const job::CutRun& run : scene.cut->runs) items.push_back(trench_text(scene, run));
  const Unit unit = dig_unit(scene.site());
  const auto earth = [&](double volume) { return fixed(unit.of(volume), 1) + " " + unit.name; };
  for (const terrain::Earthwork& work : scene.built->earthworks)
    if (!site::stands_already(*scene.design, work.name))
      items.push_back(named_with_kind(short_name(work.name), work.kind) + ": cut " + earth(work.cut) +
                      ", fill " + earth(work.fill));
  return list(at_most(items, most_runs, "cutsheet.html"));
}

std::string cut_row(const SheetScene& scene, const job::CutStation& station) {
  const Units& units = scene.units();
  const int decimals = units.metric ? 3 : 2;
  const auto cell = [](const std::string& text) { return "<td class=\"n\">" + escape(text) + "</td>"; };
  std::string head = job::station_text(station.station, !units.metric);
  // A line in the way must not be cut off behind the place where it is crossed.
  const std::string crosses = ", crosses ", note = ", " + station.note;
  const std::size_t crossed = std::min(note.find(crosses), note.size());
  const std::string place = station.note.substr(0, std::max<std::size_t>(crossed, 2) - 2);
  const auto outlet = std::find_if(scene.design->outlets.begin(), scene.design->outlets.end(),
                                   [&](const site::Outlet& each) { return each.name == place; });
  if (!place.empty())
    head += " " + (outlet != scene.design->outlets.end() ? foot_name(*outlet) : short_name(place, 12));
  const std::string lines = note.substr(std::min(crossed + crosses.size(), note.size()));
  if (!lines.empty())
    head += " \u2715 " + short_name(lines.substr(0, lines.find_first_of(" ,")), 8) +
            (lines.find(", ") != std::string::npos ? " +" : "");
  return "<tr><th scope=\"row\">" + escape(head) + "</th>" +
         cell(fixed(units.elevation.of(station.ground), decimals)) +
         cell(fixed(units.elevation.of(station.invert), decimals)) +
         cell(fixed(units.elevation.of(station.bottom), decimals)) +
         cell(job::cut_text(station.cut(), rod_unit(scene))) + "<td></td><td></td></tr>\n";
}

bool is_head(const std::string& row) {
  return row.find("rowgroup") != std::string::npos;
}

std::vector<std::string> cut_rows(const SheetScene& scene) {
  std::vector<std::string> rows;
  for (const job::CutRun& run : scene.cut->runs) {
    rows.push_back("<tr><th scope=\"rowgroup\" colspan=\"7\">" + escape(short_name(run.name)) +
                   "</th></tr>\n");
    for (const job::CutStation& station : run.stations) rows.push_back(cut_row(scene, station));
  }
  if (rows.size() <= most_rows) return rows;
  std::size_t kept = most_rows - 1;
  if (is_head(rows[kept - 1])) --kept; // a run without a station
  const bool inside = !is_head(rows[kept]);
  const bool runs = std::any_of(rows.begin() + static_cast<std::ptrdiff_t>(kept), rows.end(), is_head);
  rows.resize(kept);
  rows.push_back(std::string("<tr><td colspan=\"7\">The other ") +
                 (inside ? runs ? "stations and runs" : "stations" : "runs") +
                 " stand in cutsheet.html.</td></tr>\n");
  return rows;
}

std::string cut_table(const std::vector<std::string>& rows, std::size_t from, std::size_t to) {
  std::string html = "<table class=\"tall cuts\"><thead><tr>";
  for (const char* name : {"Station", "Ground", "Invert", "Bottom", "Cut", "Rod", "Dug"})
    html += "<th scope=\"col\"" + std::string(std::string_view(name) == "Station" ? "" : " class=\"n\"") +
            ">" + escape(name) + "</th>";
  html += "</tr></thead><tbody>\n";
  for (std::size_t k = from; k < to; ++k) html += rows[k];
  return html + "</tbody></table>\n";
}

std::string cuts(const SheetScene& scene) {
  const std::vector<std::string> rows = cut_rows(scene);
  if (rows.empty()) return paragraph("No trench in this design.");
  if (rows.size() <= one_column) return cut_table(rows, 0, rows.size());
  std::size_t half = rows.size() / 2 + 1; // the right one may have a head more
  if (is_head(rows[half - 1])) --half;    // a head goes with its stations
  std::vector<std::string> right(rows.begin() + static_cast<std::ptrdiff_t>(half), rows.end());
  if (!is_head(right.front())) { // a column that begins within a run says which
    std::string again = *std::find_if(rows.rend() - static_cast<std::ptrdiff_t>(half), rows.rend(), is_head);
    right.insert(right.begin(), again.insert(again.find("</th>"), ", further up"));
  }
  return "<div class=\"cols two tables\">" + cut_table(rows, 0, half) + cut_table(right, 0, right.size()) +
         "</div>\n";
}

std::string works_row(const SheetScene& scene, const WorkLevel& work) {
  const Unit& unit = scene.units().elevation;
  const int decimals = scene.units().metric ? 3 : 2;
  const auto cell = [](const std::string& text) { return "<td class=\"n\">" + escape(text) + "</td>"; };
  const auto level = [&](double metres) {
    return cell(std::isfinite(metres) ? fixed(unit.of(metres), decimals) : "\u2013");
  };
  return "<tr><th scope=\"row\">" + escape(named_with_kind(short_name(work.name, 20), work.kind)) +
         "</th><td>" + escape(short_name(work.text, 210)) + "</td>" + level(work.top) + level(work.bottom) +
         cell(std::isfinite(work.deep()) ? rod(scene, work.deep()) : "\u2013") + "<td></td><td></td></tr>\n";
}

std::string works_table(const SheetScene& scene, const std::vector<WorkLevel>& works) {
  std::string html = "<div class=\"scroll\" tabindex=\"0\" role=\"group\" aria-label=\"Other works\"><table "
                     "class=\"tall cuts works\"><thead><tr>";
  for (const char* name : {"What", "Size and settings", "Top", "Bottom", "Deep", "Rod", "Dug"})
    html += "<th scope=\"col\"" +
            std::string(std::string_view(name).front() == 'W' || std::string_view(name).front() == 'S'
                            ? ""
                            : " class=\"n\"") +
            ">" + escape(name) + "</th>";
  html += "</tr></thead><tbody>\n";
  for (std::size_t k = 0; k < works.size() && k < most_works; ++k) html += works_row(scene, works[k]);
  if (works.size() > most_works)
    html += "<tr><td colspan=\"7\">The other works stand in cutsheet.html.</td></tr>\n";
  return html + "</tbody></table></div>\n";
}

std::string materials(const SheetScene& scene) {
  std::vector<std::string> items;
  for (const TakeoffRow& row : takeoff_rows(*scene.takeoff, scene.site()))
    if (row.ordered.rfind("0.0 ", 0) != 0) // too little to order
      items.push_back(short_name(row.item) + ": " + row.ordered +
                      (row.weight.empty() ? "" : " (" + row.weight + ")"));
  return list(at_most(items, most_materials, "takeoff.html"));
}

std::string ties(const SheetScene& scene, const std::vector<job::Corner>& corners) {
  Table table{"From the lettered corners", {"point", "tape", "tape"}, {}, {}};
  for (const job::Tie& tie : job::swing_ties(scene.site(), *scene.design, corners)) {
    if (!tie.in_sight) {
      table.rows.push_back({short_name(tie.point, 32), "no two corners in sight",
                            "stake out " + site::written(tie.at, scene.site())});
      continue;
    }
    const std::string &first = corners[tie.first].letter, &second = corners[tie.second].letter;
    const std::string side =
        tie.side.empty() ? "" : ", on the " + tie.side + " from " + first + " to " + second;
    table.rows.push_back({short_name(tie.point, 32) + side, first + " " + tape(scene, tie.to_first),
                          second + " " + tape(scene, tie.to_second)});
  }
  keep_rows(table, most_ties, "their places in the site file");
  return table.rows.empty() ? "" : table_html(table);
}

// Of works that are no trench: ground given another shape, a rain garden, a gutter.
std::string rules_of_ground(const SheetScene& scene) {
  const bool metric = scene.units().metric;
  return list({std::string("Begin where the water is to end and work up; rod every ") +
                   (metric ? "1.5 to 3 m." : "5 to 10 ft."),
               std::string("Right is within ") + (metric ? "6 mm" : "1/4 in") +
                   "; nowhere may the ground rise the way the water is to run. High spots are shaved, low "
                   "spots filled and tamped.",
               "Stop for water in what is dug, rock, a smell of sewage, an unmarked line, clay that smears.",
               "Before sod or seed: a hose at the high end, water at the low end, none left between, and a "
               "photograph with a tape."});
}

// Soil settles; stone left open to the sky, mulch and grates are set flush.
std::string covering(const SheetScene& scene) {
  bool soil = false, open = false;
  for (const site::Run& run : scene.design->runs) {
    if (site::stands_already(*scene.design, run.name)) continue;
    const bool is_open = run.has_trench && !run.cap.of_topsoil;
    (is_open ? open : soil) = true;
  }
  const std::string high = std::string(scene.units().metric ? "50 mm" : "2 in") + " for settling.";
  if (!open) return "Then cover, and mound " + high;
  return soil ? "Then cover; mound soil, not stone or grates, " + high : "Then cover, flush with the ground.";
}

std::string rules(const SheetScene& scene) {
  const bool metric = scene.units().metric;
  const auto& runs = scene.design->runs;
  const bool slotted = std::any_of(runs.begin(), runs.end(), [&](const site::Run& run) {
    return run.pipe.slot_area > 0 && !site::stands_already(*scene.design, run.name);
  });
  const std::string steps = job::bottom_steps(*scene.cut, rod_unit(scene));
  const std::string foot = foot_words(*scene.design);
  return list(
      {"Begin at " + foot + " (station 0) and work up; rod every " + (metric ? "1.5 to 3 m." : "5 to 10 ft."),
       std::string("Right is within ") + (metric ? "6 mm" : "1/4 in") +
           "; nowhere may the bottom rise toward " + foot +
           (steps.empty() ? "" : ", but " + short_name(steps, 100) + ", where its bed of stone ends") +
           ". High spots are shaved, low spots filled with tamped stone." + (slotted ? " Slots down." : ""),
       "Stop for water in the trench, rock, a smell of sewage, an unmarked line, clay that smears.",
       "Before covering: a hose at the head, " + seen_at_foot(*scene.design) +
           ", a photograph with a tape. " + covering(scene)});
}

} // namespace

job::CutSheet crew_cut_sheet(const site::Site& site, const site::Design& design,
                             const terrain::Ground& ground) {
  const bool feet = site.units == "ft";
  job::CutSheet sheet;
  for (const double spacing : {5.0, 10.0, 20.0, 25.0, 50.0, 100.0, 200.0, 500.0}) {
    sheet = job::make_cut_sheet(site, design, ground, spacing * (feet ? 0.3048 : 0.3));
    if (rows_of(sheet) <= most_rows) return sheet;
  }
  // Many runs: what has a name is kept, and heads and feet always have one.
  for (job::CutRun& run : sheet.runs)
    run.stations.erase(std::remove_if(run.stations.begin(), run.stations.end(),
                                      [](const job::CutStation& station) { return station.note.empty(); }),
                       run.stations.end());
  return sheet;
}

std::string crew_sheet_html(const SheetScene& scene) {
  const std::vector<job::Corner> corners = job::fixed_corners(scene.site());
  const std::vector<WorkLevel> works = work_levels(scene.site(), *scene.design, scene.ground, *scene.cut);
  std::string body = "<p class=\"quiet\">" + escape(as_sentence(short_name(scene.site().name, 70))) + " " +
                     "Coordinates and elevations are the site file's.</p>\n" + limits_alert(scene);
  body += "<div class=\"cols two\">" + sketch(scene, corners) + "<div>" +
          part("Before anyone digs", before_digging(scene)) + part("Level", level_boxes(scene)) +
          "</div></div>\n";
  body += part("What is laid, from " + foot_words(*scene.design) + " up", trenches(scene));
  body += part("Cuts, elevations in " + scene.units().elevation.name + " (write in the rod and what was dug)",
               cuts(scene));
  if (!works.empty())
    body += part("Other works, elevations in " + scene.units().elevation.name, works_table(scene, works));
  body += part("To order", "<div class=\"columns three-up\">" + materials(scene) + "</div>");
  const std::string met = on_the_way(scene);
  body += "<div class=\"cols two\">" + part("To find it again", ties(scene, corners)) +
          part("On the way", met) + "</div>\n";
  body += part("How", "<div class=\"columns\">" +
                          (scene.cut->runs.empty() ? rules_of_ground(scene) : rules(scene)) + "</div>");
  body += "<div class=\"writes\">" + blank("Dug and tested by") + blank("date") +
          blank("minutes to first water") + blank(measured_at_foot(*scene.design)) + "</div>\n";
  const std::size_t lines =
      limits_lines(scene) + 2 * scene.cut->runs.size() + rows_of(*scene.cut) / 2 +
      2 * std::min(works.size(), most_works) + (scene.takeoff->lines.size() + 2) / 3 +
      std::max(job::swing_ties(scene.site(), *scene.design, corners).size(), met.size() / letters_beside);
  const std::string size = lines > full ? "crowded full" : lines > crowded ? "crowded" : "";
  body = "<div class=\"" + size + "\">" + body + "</div>\n";
  return sheet_html(scene, "Crew: " + short_name(scene.design->name, 60), body, lines > comfortable);
}

} // namespace lowspot::report
