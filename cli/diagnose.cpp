#include <algorithm>
#include <cstdio>
#include <memory>

#include <CLI/CLI.hpp>

#include <lowspot/report/diagnosis_page.hpp>
#include <lowspot/report/diagnosis_tables.hpp>
#include <lowspot/report/diagnosis_words.hpp>
#include <lowspot/results/output_folder.hpp>
#include <lowspot/study/diagnose.hpp>
#include <lowspot/study/diagnose_wet.hpp>
#include <lowspot/study/diagnosis_json.hpp>
#include <lowspot/study/progress_board.hpp>
#include <lowspot/terrain/ground.hpp>

#include "commands.hpp"
#include "interrupt.hpp"
#include "print_wet.hpp"
#include "read_yard.hpp"
#include "run_options.hpp"

namespace lowspot::cli {
namespace {

struct DiagnoseArguments {
  std::string where, out, cell;
  int threads = 0;
  bool overwrite = false, ground_only = false;
};

// Cells that are enough to find out whether rain explains what was seen [m].
constexpr double coarse_cell = 0.6;

constexpr std::size_t most_listed = 8;
constexpr int most_hollows = 4;

void print_low_spots(const Context& context, const study::Diagnosis& diagnosis, const report::Units& units) {
  std::printf("\n%s\n", context.terminal.bold("Low spots, largest first").c_str());
  const auto spots = report::spots_to_dig_for(diagnosis);
  Rows rows(2, 16);
  const auto line = [&](const std::string& number, const std::string& place, const std::string& deep,
                        const std::string& area, const std::string& holds, const std::string& rain,
                        const std::string& wet) {
    rows.add(flush_right(number, 3) + " " + place, flush_right(deep, 8) + " " + flush_right(area, 9) + " " +
                                                       flush_right(holds, 10) + " " + flush_right(rain, 13) +
                                                       " " + flush_right(wet, 15));
  };
  const std::string rain_unit = ", " + units.depth.name;
  line("no.", "in", "deep" + rain_unit, "area, " + units.area.name, "holds, " + units.volume.name,
       "fills at" + rain_unit, "wet ground" + rain_unit);
  for (std::size_t k = 0; k < std::min(spots.size(), most_listed); ++k) {
    const study::LowSpotDiagnosis& low = *spots[k];
    const auto rain = [&](double value) {
      return value == study::never ? std::string("never") : report::figure(value, units.depth);
    };
    line(std::to_string(low.spot.id), low.place, report::figure(low.spot.depth, units.depth),
         report::figure(low.spot.area, units.area), report::figure(low.spot.volume, units.volume),
         rain(low.rain_to_fill.as_it_starts), rain(low.rain_to_fill.wet));
  }
  std::printf("%s\n", rows.line(0).c_str());
  for (std::size_t k = 0; k < std::min(spots.size(), most_listed); ++k) {
    const study::LowSpotDiagnosis& low = *spots[k];
    std::printf("%s\n", rows.line(k + 1).c_str());
    std::printf("      from %s\n", wrap(report::covers_text(low, units), 11).c_str());
    const std::string roofs = report::roofs_text(low, units);
    if (!roofs.empty()) std::printf("      roofs: %s\n", wrap(roofs, 13).c_str());
    for (const study::Basin& basin : low.basins)
      if (basin.merges_into > 0 && basin.id <= most_hollows)
        std::printf("      hollow %d: %s, full at %s, then into hollow %d\n", basin.id,
                    report::amount(basin.volume, units.volume).c_str(),
                    report::elevation_text(basin.spill_level, units).c_str(), basin.spills_to);
    if (low.basins.size() > most_hollows + 1)
      std::printf("      and %zu more hollows within it\n", low.basins.size() - most_hollows - 1);
  }
  if (spots.size() > most_listed) std::printf("  and %zu smaller ones\n", spots.size() - most_listed);
}

void print_outlets(const Context& context, const study::Diagnosis& diagnosis, const report::Units& units) {
  const report::Table table = report::outlet_table(diagnosis, units);
  if (table.rows.empty()) return;
  std::printf("\n%s\n", context.terminal.bold("Outlets, and the fall to them").c_str());
  std::string from;
  for (const std::vector<std::string>& row : table.rows) {
    if (row[0] != from) std::printf("  %s\n", wrap("from " + row[0], 6, 2).c_str());
    from = row[0];
    std::printf("    %s\n", (flush_left(row[1], 24) + " " + row[2]).c_str());
    if (row[3] == "\u2013") continue;
    const std::string& length = units.length.name;
    std::printf("      %s\n", wrap(row[3] + " " + length + " long, " + row[4] + " available, " + row[5] +
                                       " needed (" + units.depth.name + "), deepest cut " + row[6] + " " +
                                       length + (row[7].empty() ? "" : "; under " + row[7]),
                                   8, 6)
                                  .c_str());
  }
}

void print_answer(const Context& context, const site::Site& site, const study::Diagnosis& diagnosis,
                  const report::Units& units) {
  std::printf("%s\n", context.terminal.bold(wrap(report::diagnosis_headline(diagnosis, units))).c_str());
  const auto spots = report::spots_to_dig_for(diagnosis);
  for (std::size_t k = 1; k < std::min<std::size_t>(spots.size(), 4); ++k)
    std::printf("\n%s\n", wrap("No. " + std::to_string(spots[k]->spot.id) + ". " +
                               report::spot_sentence(diagnosis, *spots[k], units))
                              .c_str());
  if (!spots.empty()) print_low_spots(context, diagnosis, units);
  print_outlets(context, diagnosis, units);
  print_wet(context, diagnosis);
  if (context.quiet) return;
  std::printf("\n%s\n", wrap(report::rain_note(diagnosis, units)).c_str());
  std::printf("\n%s\n", wrap(report::reach_note(site.reach, units)).c_str());
}

// Adds what the storm shows. Returns whether it was stopped: the diagnosis is then that of the ground alone,
// and says so.
bool run_storm(const Context& context, const site::Site& site, const terrain::Ground& ground, int threads,
               study::Diagnosis& diagnosis) {
  Progress progress("Running the storm", context.terminal.watched() && !context.quiet && !context.json);
  study::WetOptions wet;
  wet.threads = threads;
  wet.progress = [&](double share) {
    progress.update(share);
    return !stop_asked();
  };
  const bool coarser = !site.seen.empty() && ground.grid.cell < coarse_cell;
  study::Diagnosis whole = diagnosis;
  try {
    study::diagnose_wet(whole, site, ground, coarser ? terrain::build_ground(site, coarse_cell) : ground,
                        wet);
  } catch (const study::Stopped&) {
    diagnosis.yard.warnings.insert(
        diagnosis.yard.warnings.begin(),
        "Stopped by you after 1 of 2 steps: the ground was looked at, the storm was not run to its end.");
    return true;
  }
  diagnosis = std::move(whole);
  return false;
}

int diagnose(Context& context, const DiagnoseArguments& arguments) {
  const site::Site site = read_yard(context, arguments.where);
  const std::filesystem::path out = arguments.out;
  if (!out.empty() && std::filesystem::exists(out))
    results::prepare_output_folder(out, site.name, arguments.overwrite);
  const terrain::Ground ground = terrain::build_ground(site, cell_size(arguments.cell));
  study::DiagnoseOptions options;
  options.version = LOWSPOT_VERSION;
  study::Diagnosis diagnosis = study::diagnose(site, ground, options);
  const bool cut_short =
      !arguments.ground_only && run_storm(context, site, ground, arguments.threads, diagnosis);
  const report::Units units = report::units_for(site.units);
  if (!out.empty()) report::write_diagnosis({site, diagnosis, units}, out, arguments.overwrite);
  if (context.json) {
    std::printf("%s", study::diagnosis_json(diagnosis).c_str());
    return cut_short ? stopped : done;
  }
  if (!context.quiet || cut_short)
    for (const std::string& warning : diagnosis.yard.warnings)
      std::fprintf(stderr, "%s\n", wrap(context.terminal.warning(warning), 2, 0).c_str());
  print_answer(context, site, diagnosis, units);
  if (!out.empty())
    std::printf("\nPage:    %s\nMap:     %s\nFigures: %s\n", (out / "diagnosis.html").string().c_str(),
                (out / "diagnosis.png").string().c_str(), (out / "diagnosis.json").string().c_str());
  return cut_short ? stopped : done;
}
} // namespace

void add_diagnose(CLI::App& app, Context& context) {
  CLI::App* command = app.add_subcommand(
      "diagnose", "Why it is wet: low spots, what fills them, and where a pipe could drain them to");
  const auto arguments = std::make_shared<DiagnoseArguments>();
  command->add_option("SITE", arguments->where, "site.toml or its folder")->required();
  command->add_option("--out", arguments->out, "folder for a page, a map and the figures");
  add_cell_option(*command, arguments->cell);
  command->add_flag("--ground-only", arguments->ground_only,
                    "look at the ground alone, without running the storm");
  add_threads_option(*command, arguments->threads, "threads for the storm");
  command->add_flag("--overwrite", arguments->overwrite, "replace results of another yard in --out");
  add_answer_options(*command, context, "no warnings, no notes");
  command->footer("Example:\n  lowspot diagnose my-yard --out my-yard/diagnosis");
  command->callback([&context, arguments] {
    context.chosen = [&context, arguments] { return diagnose(context, *arguments); };
  });
}

} // namespace lowspot::cli
