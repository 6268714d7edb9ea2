#include <cstdio>
#include <memory>

#include <CLI/CLI.hpp>

#include <lowspot/catalog/catalog.hpp>
#include <lowspot/site/read_site.hpp>
#include <lowspot/study/diagnose.hpp>
#include <lowspot/study/diagnose_wet.hpp>
#include <lowspot/study/diagnosis_json.hpp>
#include <lowspot/terrain/ground.hpp>

#include "commands.hpp"
#include "print_wet.hpp"

namespace lowspot::cli {
namespace {

struct DiagnoseArguments {
  std::string where, out, cell;
  bool ground_only = false;
};

// Cells that are enough to find out whether rain explains what was seen [m].
constexpr double coarse_cell = 0.6;

int diagnose(Context& context, const DiagnoseArguments& arguments) {
  const site::Site site = site::read_site(arguments.where, catalog::read_catalog(catalog_folder()));
  const terrain::Ground ground = terrain::build_ground(site, cell_size(arguments.cell));
  study::DiagnoseOptions options;
  options.version = LOWSPOT_VERSION;
  study::Diagnosis diagnosis = study::diagnose(site, ground, options);
  if (!arguments.ground_only) {
    Progress progress("Running the storm", context.terminal.watched() && !context.quiet && !context.json);
    study::WetOptions wet;
    wet.progress = [&](double share) {
      progress.update(share);
      return true;
    };
    const bool coarser = !site.seen.empty() && ground.grid.cell < coarse_cell;
    study::diagnose_wet(diagnosis, site, ground, coarser ? terrain::build_ground(site, coarse_cell) : ground,
                        wet);
  }
  if (context.json)
    std::printf("%s", study::diagnosis_json(diagnosis).c_str());
  else
    print_wet(context, diagnosis);
  return done;
}
} // namespace

void add_diagnose(CLI::App& app, Context& context) {
  CLI::App* command = app.add_subcommand(
      "diagnose", "Why it is wet: low spots, what fills them, and where a pipe could drain them to");
  const auto arguments = std::make_shared<DiagnoseArguments>();
  command->add_option("SITE", arguments->where, "site.toml or its folder")->required();
  command->add_option("--out", arguments->out, "folder for a page, a map and the figures");
  command->add_option("--cell", arguments->cell, "cell size instead of the site file's, such as \"1 ft\"");
  command->add_flag("--ground-only", arguments->ground_only,
                    "look at the ground alone, without running the storm");
  command->add_flag("--json", context.json, "the answer as JSON on standard output");
  command->add_flag("--quiet", context.quiet, "no warnings");
  command->footer("Example:\n  lowspot diagnose my-yard --out my-yard/diagnosis");
  command->callback([&context, arguments] {
    context.chosen = [&context, arguments] { return diagnose(context, *arguments); };
  });
}

} // namespace lowspot::cli
