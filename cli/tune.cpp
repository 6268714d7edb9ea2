#include <algorithm>
#include <cmath>
#include <cstdio>
#include <memory>
#include <optional>

#include <CLI/CLI.hpp>

#include <lowspot/base/text.hpp>
#include <lowspot/ranks/rank_executor.hpp>
#include <lowspot/report/tune_page.hpp>
#include <lowspot/report/tune_words.hpp>
#include <lowspot/results/output_folder.hpp>
#include <lowspot/study/missed_hours.hpp>
#include <lowspot/study/run_key.hpp>
#include <lowspot/study/tune.hpp>
#include <lowspot/study/tune_json.hpp>
#include <lowspot/study/verdict.hpp>
#include <lowspot/terrain/ground.hpp>

#include "commands.hpp"
#include "interrupt.hpp"
#include "read_yard.hpp"
#include "run_options.hpp"

namespace lowspot::cli {
namespace {

struct TuneArguments {
  std::string where, out, cell;
  int threads = 0;
  bool all_in_full = false, strict = false, overwrite = false;
};

constexpr double quick_cell_factor = 2;
constexpr double coarsest_quick_cell = 0.61; // m: beyond it a bed and its trench are no longer seen apart

// Shows what a study is doing: each of its steps has a line of its own with the time left.
class Steps {
public:
  explicit Steps(bool shown) : shown_(shown) {}
  void update(const std::string& doing, double share) {
    const std::lock_guard<std::mutex> lock(guard_);
    if (doing != doing_ || !line_) {
      doing_ = doing;
      line_.reset();
      line_ = std::make_unique<Progress>(doing, shown_);
    }
    line_->update(share);
  }

private:
  bool shown_;
  std::string doing_;
  std::unique_ptr<Progress> line_;
  std::mutex guard_;
};

void print_answer(const Context& context, const site::Site& site, const study::Tuning& tuning,
                  const std::filesystem::path& out) {
  std::printf("%s\n\n", context.terminal.bold(wrap(report::tune_headline(site, tuning))).c_str());
  const auto points = [](const std::string& title, const std::vector<std::string>& words) {
    if (words.empty()) return;
    std::printf("%s\n", title.c_str());
    for (const std::string& one : words) std::printf("  - %s\n", wrap(one, 4).c_str());
    std::printf("\n");
  };
  points("What each step up buys:", report::step_words(site, tuning));
  points(report::stop_heading(tuning) + ":", report::stop_words(site, tuning));
  Rows rows(2, 30);
  rows.add("smallest first", flush_right("to dig", 12) + "  water stands");
  for (const study::Tried& tried : tuning.tried) {
    const std::string stands = tried.best() ? study::missed_plain_hours(study::hours_of(*tried.best()),
                                                                        tuning.yard.clear_within / 3600)
                                            : "not run";
    const char* mark = tried.works                            ? "works"
                       : !tried.candidate.can_be_built()      ? "cannot be built"
                       : tried.full                           ? "fails"
                       : report::failure_words(tried).empty() ? "quick look only"
                                                              : "fails (quick look)";
    rows.add(tried.candidate.name,
             flush_right(report::dig_text(site, tried), 12) + "  " + flush_left(stands, 22) + " " + mark);
  }
  std::printf("%s", rows.text().c_str());
  std::printf("\n%s\n", wrap(report::method_words(site, tuning)).c_str());
  if (tuning.runs_found > 0)
    std::printf("%d of the runs were there from an earlier start; %d were made now.\n", tuning.runs_found,
                tuning.runs_made);
  if (report::any_run(tuning))
    std::printf("%s\n",
                wrap("These figures are for the likely value of each input; soil can differ tenfold: with "
                     "the one chosen as a [[design]], lowspot compare says in how many plausible soils "
                     "it works.")
                    .c_str());
  if (tuning.smallest >= 0) std::printf("%s\n", wrap(report::limits_note()).c_str());
  std::printf("\nPage:    %s\nTable:   %s\nFigures: %s\n", (out / "tune.html").string().c_str(),
              (out / "tune.csv").string().c_str(), (out / "tune.json").string().c_str());
}

int tune(Context& context, const TuneArguments& arguments) {
  const site::Site site = read_yard(context, arguments.where);
  study::tuned_design(site);
  const std::filesystem::path out =
      arguments.out.empty() ? site.folder / "results" : std::filesystem::path(arguments.out);
  const std::unique_ptr<study::Executor> executor = ranks::make_executor(*context.ranks, arguments.threads);
  const terrain::Ground ground = terrain::build_ground(site, cell_size(arguments.cell));
  // Made when all that was given has been read: what is refused leaves no folder behind.
  if (executor->leads()) results::prepare_output_folder(out, site.name, arguments.overwrite);
  // A yard that is coarse already is looked at as it is: the routed method alone makes the look quick.
  const double quick_cell = std::min(quick_cell_factor * ground.grid.cell, coarsest_quick_cell);
  const bool coarser = quick_cell > 1.2 * ground.grid.cell;
  const terrain::Ground quick = coarser ? terrain::build_ground(site, quick_cell) : terrain::Ground{};
  study::TuneOptions options;
  if (coarser) options.quick_ground = &quick;
  options.all_in_full = arguments.all_in_full;
  options.version = LOWSPOT_VERSION;
  options.study = study::study_key(site, ground, LOWSPOT_VERSION);
  std::optional<study::Journal> journal; // kept by the process that leads
  if (executor->leads()) {
    journal.emplace(out / "tune.journal", options.study);
    options.journal = &*journal;
    if (journal->other_study() && !context.quiet)
      std::fputs("The yard has changed since the last start here: all is run anew.\n", stderr);
    else if (journal->kept() > 0 && !context.quiet)
      std::fprintf(stderr, "Going on from an earlier start: %d runs are there.\n", journal->kept());
  }
  study::Tuning tuning;
  {
    Steps steps(context.terminal.watched() && !context.quiet && !context.json);
    options.progress = [&](const std::string& doing, double share) {
      steps.update(doing, share);
      return !stop_asked();
    };
    try {
      tuning = study::tune(site, ground, *executor, options);
    } catch (const study::Stopped&) {
      std::fputs(
          "\nStopped by you. The runs that were finished are kept in tune.journal; the same command goes "
          "on from there.\n",
          stderr);
      return stopped;
    }
  }
  if (!executor->leads()) return done;
  report::write_tuning(site, tuning, out);
  if (context.json)
    std::printf("%s", study::tune_json(tuning, report::tune_headline(site, tuning)).c_str());
  else {
    for (const std::string& warning : tuning.yard.warnings)
      if (!context.quiet) std::fprintf(stderr, "%s\n", wrap(context.terminal.warning(warning), 2, 0).c_str());
    print_answer(context, site, tuning, out);
  }
  return arguments.strict && tuning.smallest < 0 && !tuning.as_is_works ? target_missed : done;
}
} // namespace

void add_tune(CLI::App& app, Context& context) {
  CLI::App* command = app.add_subcommand(
      "tune", "Try the combinations in [tune] and name the smallest that does what was agreed");
  const auto arguments = std::make_shared<TuneArguments>();
  command->add_option("SITE", arguments->where, "site.toml or its folder")->required();
  command->add_option("--out", arguments->out,
                      "folder for the results (default: results, beside the site file)");
  add_cell_option(*command, arguments->cell);
  command->add_flag("--all-in-full", arguments->all_in_full,
                    "run every combination in full, without a quick look first");
  add_threads_option(*command, arguments->threads);
  command->add_flag("--strict", arguments->strict, "exit with 3 when no combination does it");
  command->add_flag("--overwrite", arguments->overwrite, "replace results of another yard in --out");
  add_answer_options(*command, context, "no progress, no warnings");
  command->footer(
      "Example:\n  lowspot tune my-yard --out my-yard/results\n"
      "What may vary stands in [tune] of the site file. Finished runs are kept in tune.journal of "
      "--out: a study\nthat was stopped goes on from there.");
  command->callback([&context, arguments] {
    context.shares_work = true;
    context.chosen = [&context, arguments] { return tune(context, *arguments); };
  });
}

} // namespace lowspot::cli
