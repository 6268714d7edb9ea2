#include <atomic>
#include <cmath>
#include <cstdio>
#include <memory>
#include <optional>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include <lowspot/base/text.hpp>
#include <lowspot/checks/check_design.hpp>
#include <lowspot/report/cut_sheet_page.hpp>
#include <lowspot/report/units.hpp>
#include <lowspot/results/json_tools.hpp>
#include <lowspot/results/output_folder.hpp>
#include <lowspot/study/as_dug.hpp>
#include <lowspot/study/limits_not_kept.hpp>
#include <lowspot/study/named_design.hpp>
#include <lowspot/terrain/ground.hpp>

#include "commands.hpp"
#include "cutsheet_options.hpp"
#include "read_yard.hpp"
#include "run_options.hpp"

namespace lowspot::cli {
namespace {

struct CutSheetArguments {
  std::string where, design, out, dug, rod, every, tolerance = "1/4 in";
  std::optional<double> instrument; // in the site's units
  int threads = 0;
  bool no_rerun = false;
};

// What the trench as dug costs in hours, by running it beside the design.
void rerun(Context& context, const site::Site& site, const terrain::Ground& ground,
           const site::Design& design, const job::AsDug& dug, int threads, report::CutSheetPage& page) {
  Progress progress("Running the trench as dug",
                    context.terminal.watched() && !context.quiet && !context.json);
  const study::AsDugCost cost = study::cost_of_digging(
      site, ground, design, dug.design, LOWSPOT_VERSION, [&](double share) { progress.update(share); },
      threads);
  page.cost = study::sentence(cost);
}

void print_json(const report::CutSheetPage& page) {
  nlohmann::ordered_json json;
  json["design"] = page.sheet.design;
  if (std::isfinite(page.instrument)) json["height_of_instrument_m"] = page.instrument;
  json["stations"] = nlohmann::ordered_json::array();
  for (const job::CutRun& run : page.sheet.runs)
    for (const job::CutStation& station : run.stations) {
      nlohmann::ordered_json row = {{"run", run.name},
                                    {"station_m", station.station},
                                    {"ground_m", station.ground},
                                    {"invert_m", station.invert},
                                    {"bottom_m", station.bottom},
                                    {"cut_m", station.cut()},
                                    {"note", station.note}};
      if (std::isfinite(page.instrument)) row["rod_m"] = page.instrument - station.bottom;
      json["stations"].push_back(row);
    }
  json["works"] = nlohmann::ordered_json::array();
  const auto number = [](double value) {
    return std::isfinite(value) ? nlohmann::ordered_json(value) : nlohmann::ordered_json(nullptr);
  };
  for (const report::WorkLevel& work : page.works) {
    nlohmann::ordered_json row = {{"name", work.name},
                                  {"kind", work.kind},
                                  {"top_m", number(work.top)},
                                  {"bottom_m", number(work.bottom)},
                                  {"says", work.text}};
    if (std::isfinite(page.instrument)) {
      row["rod_top_m"] = number(page.instrument - work.top);
      row["rod_bottom_m"] = number(page.instrument - work.bottom);
    }
    json["works"].push_back(row);
  }
  json["as_dug"] = nlohmann::ordered_json::array();
  const char* answers[] = {"accept", "dig more", "fill"};
  for (const job::DugCheck& check : page.checks)
    json["as_dug"].push_back({{"run", check.reading.run},
                              {"station_m", check.reading.station},
                              {"bottom_m", check.reading.bottom},
                              {"wanted_m", check.wanted},
                              {"too_high_m", check.too_high},
                              {"answer", answers[static_cast<int>(check.answer)]}});
  json["bellies"] = nlohmann::ordered_json::array();
  for (const job::Belly& belly : page.bellies)
    json["bellies"].push_back({{"run", belly.run},
                               {"from_m", belly.from},
                               {"to_m", belly.to},
                               {"depth_m", belly.depth},
                               {"volume_m3", belly.volume}});
  json["cost"] = page.cost;
  json["limits_not_kept"] = nlohmann::ordered_json::array();
  for (const results::CheckRecord& check : page.not_kept)
    json["limits_not_kept"].push_back(study::limit_name(check));
  json["warnings"] = page.sheet.warnings;
  std::printf("%s\n", results::json_text(json).c_str());
}

void print_as_dug(const Context& context, const report::CutSheetPage& page) {
  const bool feet = page.site.units == "ft";
  std::printf("%s\n", context.terminal.bold(wrap(report::dug_verdict(page))).c_str());
  for (const job::DugCheck& check : page.checks)
    if (check.answer != job::DugAnswer::accept)
      std::printf("  - %s\n", report::dug_sentence(check, page.rod, feet).c_str());
  for (const job::Belly& belly : page.bellies)
    std::printf("  - %s\n", wrap(report::belly_sentence(belly, page.rod, feet), 4).c_str());
  if (!page.cost.empty()) std::printf("%s\n", wrap(page.cost).c_str());
  std::printf("\n");
}

// What is no run of pipe, with the rod on the top and on the bottom.
void print_works(const report::CutSheetPage& page) {
  if (page.works.empty()) return;
  const report::Units units = report::units_for(page.site.units);
  const auto level = [&](double metres) -> std::string {
    return std::isfinite(metres) ? report::fixed(units.elevation.of(metres), units.metric ? 3 : 2) : "-";
  };
  const auto columns = [](const std::string& top, const std::string& bottom, const std::string& rod_top,
                          const std::string& rod_bottom) {
    return flush_right(top, 10) + " " + flush_right(bottom, 10) + " " + flush_right(rod_top, 12) + " " +
           flush_right(rod_bottom, 12);
  };
  Rows rows(2, 32);
  rows.add("other works", columns("top", "bottom", "rod, top", "rod, bottom"));
  for (const report::WorkLevel& work : page.works)
    rows.add(report::named_with_kind(work.name, work.kind),
             columns(level(work.top), level(work.bottom), report::rod_reading(page, work.top),
                     report::rod_reading(page, work.bottom)));
  std::printf("\n%s\n", rows.line(0).c_str());
  for (std::size_t k = 0; k < page.works.size(); ++k)
    std::printf("%s\n    %s\n", rows.line(k + 1).c_str(), wrap(page.works[k].text, 4).c_str());
}

void print_sheet(const Context& context, const report::CutSheetPage& page) {
  const bool feet = page.site.units == "ft";
  const report::Units units = report::units_for(page.site.units);
  if (!page.checks.empty()) print_as_dug(context, page);
  std::printf("%s\n", context.terminal.bold(wrap("Cut sheet for \"" + page.sheet.design + "\"")).c_str());
  if (std::isfinite(page.instrument))
    std::printf("Rod readings hold for a height of instrument of %s.\n",
                report::elevation_text(page.instrument, units).c_str());
  else
    std::printf("No rod readings: give the height of instrument with --hi.\n");
  for (const job::CutRun& run : page.sheet.runs) {
    std::printf("\n  %s\n  %8s %10s %10s %12s %12s\n", wrap(run.name + " (" + run.pipe + ")", 2).c_str(),
                "station", "ground", "invert", "cut", "rod");
    for (const job::CutStation& station : run.stations)
      std::printf("  %8s %10s %10s %12s %12s%s\n", job::station_text(station.station, feet).c_str(),
                  report::fixed(units.elevation.of(station.ground), units.metric ? 3 : 2).c_str(),
                  report::fixed(units.elevation.of(station.invert), units.metric ? 3 : 2).c_str(),
                  job::cut_text(station.cut(), page.rod).c_str(),
                  report::rod_reading(page, station.bottom).c_str(),
                  (station.note.empty() ? "" : "  " + station.note).c_str());
  }
  print_works(page);
  const std::string closing = page.sheet.runs.empty()
                                  ? "A longer rod reading is deeper. Have utilities located first."
                                  : "The rod stands on the trench bottom; a longer reading is deeper. Have "
                                    "utilities located first.";
  std::printf("\n%s\n", wrap(closing).c_str());
  if (const std::string limits = study::not_kept_words(page.not_kept); !limits.empty())
    std::fprintf(stderr, "%s\n",
                 wrap(context.terminal.warning(limits + " (of those that need no run)"), 2, 0).c_str());
  for (const std::string& warning : page.sheet.warnings)
    std::fprintf(stderr, "%s\n", wrap(context.terminal.warning(warning), 2, 0).c_str());
}

int cutsheet(Context& context, const CutSheetArguments& arguments) {
  const site::Site site = read_yard(context, arguments.where);
  const site::Design& design = study::named_design(site, arguments.design);
  const double every = spacing_option(arguments.every, site);
  const std::filesystem::path out = arguments.out;
  if (std::filesystem::exists(out)) results::prepare_output_folder(out, site.name); // before the long runs
  const terrain::Ground ground = terrain::build_ground(site);
  job::CutSheet sheet = job::make_cut_sheet(site, design, ground, every);
  report::CutSheetPage page{site,
                            sheet,
                            LOWSPOT_VERSION,
                            rod_option(arguments.rod, site),
                            arguments.instrument.value_or(std::nan("")) * site.unit,
                            length_option("--tolerance", arguments.tolerance)};
  page.works = report::work_levels(site, design, ground, sheet);
  page.not_kept = study::limits_not_kept(checks::check_yard(site, ground),
                                         checks::check_design(site, ground, design)); // that need no run
  page.without_run = true;
  if (const std::string warning = check_instrument(arguments.instrument, page); !warning.empty())
    sheet.warnings.push_back(warning);
  if (!arguments.dug.empty()) {
    const job::DugUnits units{site.unit, site.unit, page.instrument};
    const auto readings = job::read_dug(read_csv(arguments.dug), sheet, units);
    page.checks = job::check_dug(readings, sheet, page.tolerance);
    const job::AsDug dug = job::lay_as_dug(design, sheet, readings);
    page.bellies = dug.bellies;
    if (!arguments.no_rerun) rerun(context, site, ground, design, dug, arguments.threads, page);
  }
  if (!arguments.out.empty()) {
    results::prepare_output_folder(out, site.name);
    results::write_whole_file(out / "cutsheet.csv", report::cut_sheet_csv(page));
    results::write_whole_file(out / "cutsheet.html", report::cut_sheet_html(page));
  }
  if (context.json)
    print_json(page);
  else
    print_sheet(context, page);
  return done;
}
} // namespace

void add_cutsheet(CLI::App& app, Context& context) {
  CLI::App* command =
      app.add_subcommand("cutsheet", "How deep to dig at every station, and a check of what was dug");
  const auto arguments = std::make_shared<CutSheetArguments>();
  command->add_option("SITE", arguments->where, "site.toml or its folder")->required();
  command->add_option("--design", arguments->design, "the design to dig, when there is more than one");
  command->add_option("--hi", arguments->instrument,
                      "height of instrument: benchmark elevation plus backsight, in the site's units");
  command->add_option("--rod", arguments->rod, "how the rod is marked: eighths, tenths or mm");
  command->add_option("--every", arguments->every, "distance of stations (default: 5 ft or 1.5 m)");
  CLI::Option* dug = command->add_option("--dug", arguments->dug,
                                         "table of readings in the open trench: station, reading, run");
  command->add_option("--tolerance", arguments->tolerance, "how far off a reading may be")
      ->capture_default_str();
  command
      ->add_flag("--no-rerun", arguments->no_rerun, "with --dug: do not run the storm on the trench as dug")
      ->needs(dug);
  add_threads_option(*command, arguments->threads, "with --dug: threads for the runs")->needs(dug);
  command->add_option("--out", arguments->out, "folder for cutsheet.csv and cutsheet.html");
  add_answer_options(*command, context);
  command->footer(
      "Examples:\n  lowspot cutsheet my-yard --hi 104.32 --out my-yard/results\n"
      "  lowspot cutsheet my-yard --hi 104.32 --dug trench.csv\n"
      "trench.csv holds what the rod read in the open trench: columns station (0+05, or 5), reading "
      "and run.");
  command->callback([&context, arguments] {
    context.chosen = [&context, arguments] { return cutsheet(context, *arguments); };
  });
}

} // namespace lowspot::cli
