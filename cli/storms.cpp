#include <cmath>
#include <cstdio>
#include <memory>

#include <CLI/CLI.hpp>

#include <lowspot/ranks/rank_executor.hpp>
#include <lowspot/report/storms_page.hpp>
#include <lowspot/results/output_folder.hpp>
#include <lowspot/study/draws.hpp>
#include <lowspot/study/missed_hours.hpp>
#include <lowspot/study/plausible.hpp>
#include <lowspot/study/storms.hpp>
#include <lowspot/study/storms_words.hpp>
#include <lowspot/study/verdict.hpp>
#include <lowspot/terrain/ground.hpp>

#include "commands.hpp"
#include "interrupt.hpp"
#include "read_yard.hpp"
#include "run_options.hpp"

namespace lowspot::cli {
namespace {

struct StormsArguments {
  std::string where, out, cell;
  std::vector<std::string> designs;
  std::string method = "routed";
  int threads = 0, plausible = 0;
  std::uint64_t seed = 1;
};

void print_answer(const Context& context, const study::StormStudy& study, const site::Site& site) {
  for (const std::string& sentence : study.sentences)
    std::printf("%s\n", context.terminal.bold(wrap(sentence)).c_str());
  std::printf("\nHow long the place that stands longest stands after the rain:\n");
  for (const study::StormCurve& curve : study.curves) {
    std::printf("  %s\n", wrap(curve.design, 2).c_str());
    for (std::size_t k = 0; k < study.levels.size(); ++k) {
      std::string hours = study::missed_plain_hours(curve.hours[k], study.clear_within / 3600);
      if (curve.open[k]) hours = study::hours_at_least(curve.hours[k], true);
      if (!curve.works.empty())
        hours +=
            "  meets the target in " + std::to_string(std::lround(100 * curve.works[k])) + " % of the soils";
      std::printf("    %-22s %-8s %s\n", study::storm_name(study.levels[k], site).c_str(),
                  curve.met[k] ? "meets" : "fails", hours.c_str());
    }
  }
  std::printf("\n%s\n", wrap(study::storms_method(study, site)).c_str());
}

int storms(Context& context, const StormsArguments& arguments) {
  const site::Site site = read_yard(context, arguments.where);
  if (std::filesystem::exists(arguments.out)) results::prepare_output_folder(arguments.out, site.name);
  // As many cells as make the storms cost about as much as one comparison.
  double cell = cell_size(arguments.cell);
  terrain::Ground ground = terrain::build_ground(site, cell);
  if (arguments.cell.empty()) {
    cell = study::draw_cell(ground.grid.cell, ground.grid.cells(), 7 * (arguments.plausible + 1));
    ground = terrain::build_ground(site, cell);
  }
  study::StormOptions options;
  options.designs = arguments.designs;
  if (arguments.method == "dynamic") options.method = surface::Method::dynamic;
  options.draws = arguments.plausible;
  options.seed = arguments.seed;
  options.keep_finished = true;
  const std::unique_ptr<study::Executor> executor = ranks::make_executor(*context.ranks, arguments.threads);
  study::StormStudy study;
  {
    Progress progress("Running the storms", context.terminal.watched() && !context.quiet && !context.json);
    options.progress = [&](double share) {
      progress.update(share);
      return !stop_asked();
    };
    try {
      study = study::run_storms(site, ground, *executor, options);
    } catch (const study::Stopped&) {
      std::fputs("\nStopped by you. Nothing was written.\n", stderr);
      return stopped;
    }
  }
  if (!executor->leads()) return done;
  const int code = stop_asked() ? stopped : done;
  const std::string json = study::storms_json(study, site.name, LOWSPOT_VERSION);
  if (!arguments.out.empty()) {
    const std::filesystem::path out = arguments.out;
    results::prepare_output_folder(out, site.name);
    results::write_whole_file(out / "storms.json", json);
    results::write_whole_file(out / "storms.csv", study::storms_csv(study));
    results::write_whole_file(out / "storms.html", report::storms_html(study, site, LOWSPOT_VERSION));
  }
  if (context.json) {
    std::printf("%s", json.c_str());
    return code;
  }
  print_answer(context, study, site);
  if (!arguments.out.empty())
    std::printf("\nPage: %s\n", (std::filesystem::path(arguments.out) / "storms.html").string().c_str());
  return code;
}
} // namespace

void add_storms(CLI::App& app, Context& context) {
  CLI::App* command = app.add_subcommand(
      "storms", "Hours standing against the depth of the storm, and the storm at which a design fails");
  const auto arguments = std::make_shared<StormsArguments>();
  command->add_option("SITE", arguments->where, "site.toml or its folder")->required();
  command->add_option("--out", arguments->out, "folder for storms.html, storms.csv and storms.json");
  command->add_option("--design", arguments->designs,
                      "run only this design beside the yard as it is (may be repeated)");
  add_cell_option(*command, arguments->cell, ", such as \"1 ft\" (default: coarser than the site's)");
  add_method_option(*command, arguments->method, "routed (quick), or dynamic");
  add_plausible_options(*command, arguments->plausible, arguments->seed,
                        "in every storm, for bands (default: 0)");
  add_threads_option(*command, arguments->threads);
  add_answer_options(*command, context);
  command->footer(
      "Example:\n  lowspot storms my-yard --out my-yard/results\n"
      "Storms of 1 to 100 years come from the table under [storm]; without one, the site's own storm is "
      "made lighter and heavier.");
  command->callback([&context, arguments] {
    context.shares_work = true;
    context.chosen = [&context, arguments] { return storms(context, *arguments); };
  });
}

} // namespace lowspot::cli
