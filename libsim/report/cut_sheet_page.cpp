#include <lowspot/report/cut_sheet_page.hpp>

#include <algorithm>

#include <lowspot/base/csv_text.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/job/bottom_steps.hpp>
#include <lowspot/job/deepest.hpp>
#include <lowspot/report/cut_profile.hpp>
#include <lowspot/report/document.hpp>
#include <lowspot/report/foot_words.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/limits_alert.hpp>
#include <lowspot/report/sheet.hpp>
#include <lowspot/report/units.hpp>
#include <lowspot/site/rule_length.hpp>
#include <lowspot/site/trench_rules.hpp>

namespace lowspot::report {
namespace {

// Columns are ruled, since some are filled in by hand.
constexpr const char* style =
    "main{font-size:1.06rem}td,th{font-size:1.05rem}.blank{min-width:6rem;border-bottom:1px solid "
    "currentColor}"
    "td{border-left:1px solid "
    "var(--line)}td:nth-last-child(2){min-width:4.5rem}section{break-inside:avoid-page}"
    ".first{columns:2 17rem;column-gap:1.6rem}.first ul{max-width:none;margin-top:0}.first "
    "li{break-inside:avoid}"
    ".run{display:flex;flex-direction:column}.run .chart{order:1}"
    // In the trench, with a phone in hand, bottom, cut and rod are wanted; the ground has been dug away.
    "@media screen and (max-width:40rem){td,th{padding:.38rem .22rem;font-size:1rem}thead "
    "th.n{min-width:0}.run :is(th,td):is(:nth-child(2),:nth-child(3)){display:none}}"
    "@media print{main{font-size:12pt}main>.alert{font-size:9.5pt;line-height:1.2;padding:.6mm "
    "2mm;margin:1mm 0}main>.quiet{font-size:9pt;margin:.5mm 0}main "
    ".sentence{font-size:11pt;line-height:1.25;margin:1mm 0}main h3{margin:1mm "
    "0}.first{margin-top:0!important}td,th{font-size:11.5pt;padding:.2rem .4rem}.first{font-size:10.5pt}"
    // Short runs share a sheet, their profile beside what is said of them; a long one begins where the last
    // ends, its heading beside its first stations, and goes on under the same head of the table.
    ".run{display:block;margin-top:1.5mm}.run.long{break-inside:auto}.run .chart{overflow:visible}.run "
    ".chart text{font-size:19px}main "
    ".run p{margin:.8mm "
    "0;line-height:1.2;font-size:11pt;break-after:"
    "avoid}.run .scroll{clear:both;margin:.6mm 0}.run .chart{float:right;width:46%;max-height:30mm;margin:0 "
    "0 "
    "1mm 3mm}}";

constexpr std::size_t most_limits = 8;
constexpr std::size_t letters_of_a_limit = 150;
// Stations: more are parted over two sheets rather than leave one half empty.
constexpr std::size_t long_run = 6;

bool in_feet(const CutSheetPage& page) {
  return page.site.units == "ft";
}

const job::DugCheck* check_at(const CutSheetPage& page, const std::string& run, double station) {
  for (const job::DugCheck& check : page.checks)
    if (check.reading.run == run && std::abs(check.reading.station - station) < 1e-3) return &check;
  return nullptr;
}

std::string found_text(const CutSheetPage& page, const job::CutRun& run, const job::CutStation& station) {
  const job::DugCheck* check = check_at(page, run.name, station.station);
  if (!check) return "";
  const std::string by = job::difference_text(check->too_high, page.rod);
  if (check->answer == job::DugAnswer::accept) return "right";
  return check->answer == job::DugAnswer::dig_more ? "dig " + by + " more" : "fill " + by;
}

std::string run_table(const CutSheetPage& page, const job::CutRun& run, const Units& units) {
  Table table;
  table.head = {"Station",
                "Ground, " + units.elevation.name,
                "Pipe invert, " + units.elevation.name,
                "Trench bottom, " + units.elevation.name,
                "Cut",
                "Rod on trench bottom",
                "Rod on pipe top",
                "As dug",
                "Place"};
  table.text_columns = {8};
  const double pipe_top = 0.5 * (run.inside_diameter + run.outside_diameter);
  for (const job::CutStation& station : run.stations)
    table.rows.push_back({unbroken(job::station_text(station.station, in_feet(page))),
                          fixed(units.elevation.of(station.ground), units.metric ? 3 : 2),
                          fixed(units.elevation.of(station.invert), units.metric ? 3 : 2),
                          fixed(units.elevation.of(station.bottom), units.metric ? 3 : 2),
                          job::cut_text(station.cut(), page.rod), rod_reading(page, station.bottom),
                          rod_reading(page, station.invert + pipe_top), found_text(page, run, station),
                          station.note});
  return table_html(table);
}

// Earth and stone go by the yard, or the cubic metre.
std::string earth(double volume, const Units& units) {
  return units.metric ? rounded(volume, 2) + " m³" : rounded(volume / 0.764554857984, 2) + " cu yd";
}

std::string run_facts(const CutSheetPage& page, const job::CutRun& run, const Units& units) {
  const auto deep = [&](double metres) { return unbroken(job::rod_text(metres, page.rod)); };
  std::string text = run.pipe.empty() ? "no pipe" : run.pipe;
  text += ", " + amount(run.length, units.length, 3) + " long, falling at least " +
          rounded(100 * run.least_fall, 2) + " %. Trench " + job::width_text(run.width, page.rod) +
          " wide, at most " + deep(run.deepest) + " deep; the pipe's invert lies " +
          job::width_text(run.bedding, page.rod) + " above its bottom.";
  text += " Spoil " + earth(run.spoil, units) + " in the ground";
  text += run.stone > 0 ? ", stone " + earth(run.stone, units) + " in place." : ".";
  return paragraph(text);
}

std::string works_section(const CutSheetPage& page, const Units& units) {
  if (page.works.empty()) return "";
  Table table;
  table.head = {"What",
                "Size and settings",
                "Top, " + units.elevation.name,
                "Bottom, " + units.elevation.name,
                "Deep",
                "Rod at the top",
                "Rod on the bottom"};
  table.text_columns = {1};
  const auto level = [&](double metres) {
    return std::isfinite(metres) ? fixed(units.elevation.of(metres), units.metric ? 3 : 2) : "\u2013";
  };
  for (const WorkLevel& work : page.works)
    table.rows.push_back({named_with_kind(work.name, work.kind), work.text, level(work.top),
                          level(work.bottom),
                          std::isfinite(work.deep()) ? job::rod_text(work.deep(), page.rod) : "\u2013",
                          rod_reading(page, work.top), rod_reading(page, work.bottom)});
  return "<section><h3>Other works</h3>\n" + table_html(table) + "</section>\n";
}

std::string run_section(const CutSheetPage& page, const job::CutRun& run, const Units& units) {
  return std::string("<section class=\"run") + (run.stations.size() > long_run ? " long" : "") + "\"><h3>" +
         escape(run.name) + "</h3>\n" + cut_profile_svg(run, page.checks, units, in_feet(page)) +
         run_facts(page, run, units) + run_table(page, run, units) + "</section>\n";
}

std::string benchmark(const CutSheetPage& page, const Units& units) {
  if (std::isfinite(page.instrument))
    return "<p class=\"sentence\">Rod readings hold for a height of instrument of <b>" +
           elevation_text(page.instrument, units) +
           "</b>. Move the laser, and the sheet must be printed again.</p>\n";
  return "<p class=\"sentence\">No height of instrument was given, so there are no rod readings: shoot the "
         "benchmark, add the reading to its elevation and print again with <span "
         "style=\"white-space:nowrap\">--hi</span>, or take the trench bottom off it. Height of instrument: "
         "<span "
         "class=\"blank\">&emsp;&emsp;&emsp;&emsp;&emsp;</span></p>\n";
}

std::vector<std::string> instructions(const CutSheetPage& page) {
  const std::string mark = job::difference_text(page.tolerance, page.rod);
  if (page.sheet.runs.empty()) // ground given another shape, pits, gutters
    return {"Begin where the water is to end and work up. A longer rod reading is deeper.",
            "Within " + (mark.empty() ? "the finest mark" : mark) +
                " of the reading is right. Nowhere may the ground rise the way the water is to run.",
            "High spots are shaved; low spots are filled and tamped."};
  const std::string steps = job::bottom_steps(page.sheet, page.rod);
  std::string foot = "the outlet";
  for (const site::Design& design : page.site.designs)
    if (design.name == page.sheet.design) foot = foot_words(design);
  return {"Start at " + foot + " (station " + job::station_text(0, in_feet(page)) +
              ") and work up. A longer rod reading is deeper.",
          "Within " + (mark.empty() ? "the finest mark" : mark) +
              " of the reading is right. Nowhere may the bottom rise toward " + foot +
              (steps.empty()
                   ? ""
                   : ", but " + steps + ", where the bed of stone ends and the pipe does not rise") +
              ": a hump found with "
              "the rod costs five minutes, after backfilling a new trench.",
          "High spots are shaved; low spots are filled with tamped stone, not loose earth.",
          "Write down what the rod reads in the open trench, and test with water before covering."};
}

// What anyone reads before the tables: what may hurt first, then how it is dug.
std::string before_digging(const CutSheetPage& page) {
  double deepest = 0;
  for (const job::CutRun& run : page.sheet.runs) deepest = std::max(deepest, run.deepest);
  for (const site::Design& design : page.site.designs)
    if (design.name == page.sheet.design) deepest = job::deepest_dug(page.sheet, design);
  std::vector<std::string> items = {
      "Utilities located and marks still readable? Dig by hand beside them; private lines are not marked by "
      "the "
      "public service.",
      "Stay outside a line that falls at 45 degrees from the bottom of any footing.",
      "Stop for water in the trench, rock, a smell of sewage, an unmarked line, or clay that smears."};
  const site::TrenchRule way_out = site::way_out_from(page.site), protect = site::protected_from(page.site);
  if (deepest >= protect.depth)
    items.insert(items.begin(), protect.written +
                                    " deep or more in places: nobody enters without a protective "
                                    "system chosen by a competent person.");
  else if (deepest >= way_out.depth)
    items.insert(items.begin(), way_out.written + " deep or more in places: a ladder or ramp within " +
                                    site::rule_length(25, in_feet(page)) + " of anyone in it.");
  for (const std::string& warning : page.sheet.warnings) items.push_back(sentence_case(warning) + ".");
  for (std::string& instruction : instructions(page)) items.push_back(std::move(instruction));
  return "<h3>Before and while you dig</h3>\n<div class=\"first\">" + list(items) + "</div>\n";
}

std::string as_dug(const CutSheetPage& page) {
  if (page.checks.empty()) return "";
  std::vector<std::string> wrong;
  for (const job::DugCheck& check : page.checks)
    if (check.answer != job::DugAnswer::accept) wrong.push_back(dug_sentence(check, page.rod, in_feet(page)));
  std::string html = "<section><h3>As dug</h3>\n" + paragraph(dug_verdict(page));
  if (!wrong.empty()) html += list(wrong);
  for (const job::Belly& belly : page.bellies)
    html += "<p class=\"alert\">" + escape(belly_sentence(belly, page.rod, in_feet(page))) + "</p>\n";
  if (!page.cost.empty()) html += paragraph(page.cost);
  return html + "</section>\n";
}

} // namespace

std::string rod_reading(const CutSheetPage& page, double elevation) {
  if (!std::isfinite(page.instrument) || !std::isfinite(elevation)) return "";
  return page.instrument < elevation ? "above HI" : job::rod_text(page.instrument - elevation, page.rod);
}

bool dug_right(const CutSheetPage& page) {
  return page.bellies.empty() &&
         std::all_of(page.checks.begin(), page.checks.end(),
                     [](const job::DugCheck& check) { return check.answer == job::DugAnswer::accept; });
}

std::string dug_verdict(const CutSheetPage& page) {
  std::size_t all = 0, read = 0;
  for (const job::CutRun& run : page.sheet.runs)
    for (const job::CutStation& station : run.stations)
      ++all, read += check_at(page, run.name, station.station) != nullptr ? 1 : 0;
  const std::string stations = std::to_string(read) + " of " + std::to_string(all) + " stations read";
  if (!dug_right(page)) return "Not yet right (" + stations + "):";
  return read < all ? "Right as far as it was read (" + stations + "): read the others, then lay the pipe."
                    : "The trench is right: lay the pipe.";
}

std::string dug_sentence(const job::DugCheck& check, job::RodUnit rod_unit, bool feet) {
  const std::string where = job::station_text(check.reading.station, feet);
  const std::string by = job::difference_text(check.too_high, rod_unit);
  if (check.answer == job::DugAnswer::accept) return where + " of " + check.reading.run + " is right";
  return (check.answer == job::DugAnswer::dig_more ? "dig " + by + " more at "
                                                   : "fill " + by + " with tamped stone at ") +
         where + " of " + check.reading.run;
}

std::string belly_sentence(const job::Belly& belly, job::RodUnit rod_unit, bool feet) {
  const std::string depth = job::difference_text(belly.depth, rod_unit);
  return "A belly in " + belly.run + " from " + job::station_text(belly.from, feet) + " to " +
         job::station_text(belly.to, feet) + ": " + (depth.empty() ? "next to nothing" : depth) +
         " of water stays in the pipe, and silt and ice will gather there.";
}

std::string cut_sheet_html(const CutSheetPage& page) {
  const Units units = units_for(page.site.units);
  Document document;
  document.title = "Cut sheet: " + page.sheet.design + ", " + page.site.name;
  document.version = page.version;
  document.metric = units.metric;
  document.style = style;
  document.body = limits_alert(page.not_kept, most_limits, letters_of_a_limit, "the answer of lowspot check");
  if (page.without_run)
    document.body +=
        "<p class=\"quiet\">Limits that the storm decides, such as how full the pipes run, were not "
        "looked at for this sheet: see report.html.</p>\n";
  document.body += before_digging(page) + benchmark(page, units) + as_dug(page);
  for (const job::CutRun& run : page.sheet.runs) document.body += run_section(page, run, units);
  document.body += works_section(page, units);
  return document_html(document);
}

std::string cut_sheet_csv(const CutSheetPage& page) {
  const Units units = units_for(page.site.units);
  const std::string unit = units.metric ? "_m" : "_ft";
  std::string csv = "run,station";
  for (const char* head : {"from_head", "ground", "invert", "bottom", "cut"}) csv += "," + (head + unit);
  csv += ",rod_on_bottom,note\n";
  const auto figure_of = [&](double metres) {
    return std::isfinite(metres) ? fixed(units.elevation.of(metres), 4) : std::string();
  };
  for (const job::CutRun& run : page.sheet.runs)
    for (const job::CutStation& station : run.stations)
      csv += csv_text(run.name) + "," + job::station_text(station.station, in_feet(page)) + "," +
             figure_of(station.distance) + "," + figure_of(station.ground) + "," + figure_of(station.invert) +
             "," + figure_of(station.bottom) + "," + figure_of(station.cut()) + "," +
             csv_text(rod_reading(page, station.bottom)) + "," + csv_text(station.note) + "\n";
  for (const WorkLevel& work : page.works)
    csv += csv_text(work.name) + ",,," + figure_of(work.top) + ",," + figure_of(work.bottom) + "," +
           figure_of(work.deep()) + "," + csv_text(rod_reading(page, work.bottom)) + "," +
           csv_text(work.kind + ": " + work.text) + "\n";
  return csv;
}

} // namespace lowspot::report
