#include <algorithm>
#include <cstdio>
#include <exception>
#include <memory>

#include <CLI/CLI.hpp>

#include <lowspot/base/text.hpp>
#include <lowspot/gis/write_raster.hpp>
#include <lowspot/job/takeoff.hpp>
#include <lowspot/ranks/rank_executor.hpp>
#include <lowspot/report/key_figures.hpp>
#include <lowspot/report/write_gis.hpp>
#include <lowspot/report/write_maps.hpp>
#include <lowspot/report/write_report.hpp>
#include <lowspot/report/write_sheets.hpp>
#include <lowspot/results/delivery.hpp>
#include <lowspot/results/output_folder.hpp>
#include <lowspot/results/summary_json.hpp>
#include <lowspot/results/target.hpp>
#include <lowspot/results/write_outputs.hpp>
#include <lowspot/study/compare.hpp>
#include <lowspot/study/diagnose.hpp>
#include <lowspot/study/draws.hpp>
#include <lowspot/study/limits_not_kept.hpp>
#include <lowspot/study/missed_hours.hpp>
#include <lowspot/study/plausible.hpp>
#include <lowspot/study/verdict.hpp>
#include <lowspot/terrain/ground.hpp>

#include "commands.hpp"
#include "interrupt.hpp"
#include "read_yard.hpp"
#include "run_options.hpp"

namespace lowspot::cli {
namespace {

struct CompareArguments {
  std::string where, out, cell;
  std::vector<std::string> designs;
  std::string method = "dynamic";
  int threads = 0;
  int plausible = -1; // not given: usual_draws where an input is a band
  std::uint64_t seed = 1;
  bool strict = false;
  bool overwrite = false;
  bool gis = false;
};

// A near miss does not read as the target.
std::string stands(const results::AreaRecord& area, double clear_within) {
  return area.still_standing ? "still standing at the end"
                             : study::missed_plain_hours(area.standing_hours_after_rain, clear_within / 3600);
}

std::string soggy(const results::AreaRecord& area) {
  if (area.still_soggy) return "still soggy at the end";
  return area.soggy_hours_after_rain > 0 ? study::plain_hours(area.soggy_hours_after_rain) : "not soggy";
}

// The limits that the works of each design do not keep, by name: the answer itself names the first alone.
void print_failures(const results::Comparison& comparison) {
  bool headed = false;
  for (const results::DesignRecord& design : comparison.designs) {
    const std::vector<results::CheckRecord> list = study::limits_not_kept(comparison, design);
    if (list.empty()) continue;
    if (!headed) std::printf("\nNot kept by the works (figures and limits in the report):\n");
    headed = true;
    std::printf("  %s\n", wrap(design.name, 2).c_str());
    for (const results::CheckRecord& check : list)
      std::printf("    - %s\n", wrap(study::limit_name(check), 6).c_str());
  }
}

void print_answer(const Context& context, const results::Comparison& comparison,
                  const std::filesystem::path& out) {
  std::printf("%s\n\n", context.terminal.bold(wrap(comparison.verdict.sentence)).c_str());
  const std::string deep = comparison.units == "ft" ? rounded(comparison.standing_depth / 0.0254, 3) + " in"
                                                    : rounded(comparison.standing_depth * 1000, 3) + " mm";
  std::printf("%s\n",
              wrap("After the rain, a puddle deeper than " + deep + " stands, and the ground is soggy, for:")
                  .c_str());
  for (const results::DesignRecord& design : comparison.designs) {
    std::printf("  %s\n", wrap(design.name, 2).c_str());
    Rows rows(4, 28);
    for (const results::AreaRecord& area : design.areas)
      if (area.judged)
        rows.add(area.name, flush_left(stands(area, comparison.clear_within), 26) +
                                (area.under_slab ? "under it: " : "") + soggy(area));
    if (std::none_of(design.areas.begin(), design.areas.end(),
                     [](const auto& area) { return area.judged; })) {
      const results::Standing spot =
          results::longest_standing(design, comparison.clear_within, comparison.end_of_rain);
      rows.add(spot.place, spot.still
                               ? "still standing at the end"
                               : study::missed_plain_hours(spot.hours, comparison.clear_within / 3600));
    }
    for (const results::VesselRecord& vessel : design.vessels)
      if (const std::string emptied = report::emptied_text(design, vessel.name); !emptied.empty())
        rows.add(vessel.name + " (" + vessel.kind + ")", emptied);
    std::printf("%s", rows.text().c_str());
  }
  print_failures(comparison);
  if (comparison.plausible.draws > 0)
    std::printf("\n%s\n", wrap("The figures above are for the likely value of each input. " +
                               comparison.plausible.sentence)
                              .c_str());
  else
    std::printf("\nThese figures are for the likely value of each input; soil can differ tenfold.\n");
  std::printf("\nReport:  %s\nPrint:   %shomeowner.html, permit.html beside it, a page each\nMaps:    "
              "%s\nFigures: %s\n",
              (out / "report.html").string().c_str(), comparison.designs.size() > 1 ? "crew.html, " : "",
              (out / "maps").string().c_str(), (out / "summary.json").string().c_str());
}

// Draws on the plausible soils; nothing where none were asked for or no input is a band.
results::PlausibleStudy plausible(const site::Site& site, const terrain::Ground& ground,
                                  const results::Comparison* comparison, const CompareArguments& arguments,
                                  study::Executor& executor, const std::function<bool(double)>& progress) {
  study::PlausibleOptions options;
  options.draws = arguments.plausible < 0 ? study::usual_draws : arguments.plausible;
  if (options.draws == 0 || study::find_uncertain_inputs(site).empty()) return {};
  options.seed = arguments.seed;
  options.designs = arguments.designs;
  options.progress = progress;
  const terrain::Ground coarse =
      terrain::build_ground(site, study::draw_cell(ground.grid.cell, ground.grid.cells(), options.draws));
  return study::plausible_soils(site, coarse, comparison, executor, options);
}

// The answer as a band. Its quick runs on larger cells may fail where the runs in full did not, such as an
// outlet that finds no open ground: then the answer stands without it, and that is said.
void add_band(results::Comparison& comparison, const site::Site& site, const terrain::Ground& ground,
              const CompareArguments& arguments, study::Executor& executor,
              const std::function<bool(double)>& progress) {
  try {
    comparison.plausible = plausible(site, ground, &comparison, arguments, executor, progress);
  } catch (const study::Stopped&) {
    comparison.warnings.push_back("Stopped by you: the answer has no band over plausible soils.");
  } catch (const std::exception& problem) {
    comparison.warnings.push_back(
        "The answer has no band over plausible soils, since a quick run on larger cells failed: " +
        std::string(problem.what()));
  }
}

bool is_chosen(const CompareArguments& arguments, const std::string& design) {
  const std::vector<std::string>& chosen = arguments.designs;
  return chosen.empty() || std::find(chosen.begin(), chosen.end(), design) != chosen.end();
}

int compare(Context& context, const CompareArguments& arguments) {
  const site::Site site = read_yard(context, arguments.where);
  const std::filesystem::path out =
      arguments.out.empty() ? site.folder / "results" : std::filesystem::path(arguments.out);
  if (std::filesystem::exists(out)) results::prepare_output_folder(out, site.name, arguments.overwrite);
  const std::string crs_text = gis::well_known_text(site.crs, site.file.string());
  const terrain::Ground ground = terrain::build_ground(site, cell_size(arguments.cell));
  // A slip in a rate is found now, not after hours of runs.
  for (const site::Design& design : site.designs)
    if (!site.ordering.rates.empty() && is_chosen(arguments, design.name))
      job::take_off(site, design, ground);
  const std::unique_ptr<study::Executor> executor = ranks::make_executor(*context.ranks, arguments.threads);
  if (!executor->leads()) { // the runs in full are made by the process that leads
    try {
      plausible(site, ground, nullptr, arguments, *executor, {});
    } catch (const study::Stopped&) { // what went wrong is said by the process that leads
    } catch (const std::exception&) {
    }
    return done;
  }
  study::CompareOptions options;
  options.designs = arguments.designs;
  options.threads = arguments.threads;
  if (arguments.method == "routed") options.method = surface::Method::routed;
  options.version = LOWSPOT_VERSION;
  options.keep_finished = true;
  results::Comparison comparison;
  {
    Progress progress("Running the storm", context.terminal.watched() && !context.quiet && !context.json);
    options.progress = [&](double share) {
      progress.update(share);
      return !stop_asked();
    };
    try {
      comparison = study::compare(site, ground, options);
      progress.again("Plausible soils");
      add_band(comparison, site, ground, arguments, *executor, options.progress);
    } catch (const study::Stopped&) {
      std::fputs("\nStopped by you. Nothing was written.\n", stderr);
      return stopped;
    }
  }
  const bool cut_short = stop_asked();              // later stops come too late to leave anything out
  if (!crs_text.empty()) comparison.crs = crs_text; // readers of results.nc know the text, not every code
  study::DiagnoseOptions diagnose_options;
  diagnose_options.version = LOWSPOT_VERSION;
  const study::Diagnosis diagnosis = study::diagnose(site, ground, diagnose_options);
  results::prepare_output_folder(out, site.name, arguments.overwrite);
  results::Delivery delivery(out);
  results::write_outputs(comparison, delivery.staging());
  report::write_report(site, comparison, delivery.staging(), false, &diagnosis);
  report::write_sheets(site, ground, comparison, delivery.staging());
  if (arguments.gis) report::write_gis(site, comparison, delivery.staging());
  delivery.deliver([&](const std::filesystem::path& folder) {
    report::remove_gis(folder);
    report::remove_source_maps(folder);
    if (comparison.designs.size() < 2) report::remove_works(folder);
  });
  if (context.json)
    std::printf("%s\n", results::summary_json(comparison).c_str());
  else {
    for (const std::string& warning : comparison.warnings)
      if (!context.quiet) std::fprintf(stderr, "%s\n", wrap(context.terminal.warning(warning), 2, 0).c_str());
    print_answer(context, comparison, out);
  }
  if (cut_short) return stopped;
  return arguments.strict && !comparison.verdict.target_met ? target_missed : done;
}
} // namespace

void add_compare(CLI::App& app, Context& context) {
  CLI::App* command =
      app.add_subcommand("compare", "The main job: run the storm on the yard as it is and with each design");
  const auto arguments = std::make_shared<CompareArguments>();
  command->add_option("SITE", arguments->where, "site.toml or its folder")->required();
  command->add_option("--out", arguments->out,
                      "folder for the results (default: results, beside the site file)");
  command->add_option("--design", arguments->designs,
                      "run only this design beside the yard as it is (may be repeated)");
  add_cell_option(*command, arguments->cell);
  add_method_option(*command, arguments->method,
                    "dynamic, or routed (quicker, approximate, does not say where water comes from)");
  add_threads_option(*command, arguments->threads, "threads for all runs together");
  add_plausible_options(*command, arguments->plausible, arguments->seed,
                        "within the bands of the site file, for the answer as a band (default: " +
                            std::to_string(study::usual_draws) + " where there are bands; 0: none)");
  command->add_flag("--strict", arguments->strict, "exit with 3 when no design meets the target");
  command->add_flag("--overwrite", arguments->overwrite, "replace results of another yard in --out");
  command->add_flag("--gis", arguments->gis,
                    "maps for a geographic information system, too: GeoTIFF and GeoJSON in the folder gis");
  add_answer_options(*command, context, "no progress, no warnings", "the summary as JSON on standard output");
  command->footer("Example:\n  lowspot compare my-yard --out my-yard/results");
  command->callback([&context, arguments] {
    context.shares_work = true;
    context.chosen = [&context, arguments] { return compare(context, *arguments); };
  });
}

} // namespace lowspot::cli
