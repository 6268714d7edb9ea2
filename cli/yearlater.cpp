#include <cstdio>
#include <memory>

#include <CLI/CLI.hpp>

#include <lowspot/base/error.hpp>
#include <lowspot/base/quantity.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/rain/gauge.hpp>
#include <lowspot/ranks/rank_executor.hpp>
#include <lowspot/report/year_later_page.hpp>
#include <lowspot/results/output_folder.hpp>
#include <lowspot/study/named_design.hpp>
#include <lowspot/study/plausible.hpp>
#include <lowspot/study/verdict.hpp>
#include <lowspot/study/year_later.hpp>
#include <lowspot/terrain/ground.hpp>

#include "commands.hpp"
#include "interrupt.hpp"
#include "read_yard.hpp"
#include "run_options.hpp"

namespace lowspot::cli {
namespace {

struct YearLaterArguments {
  std::string where, rain, out, cell, design, outlet;
  std::vector<std::string> stood;
  int threads = 0, plausible = study::usual_draws;
  std::uint64_t seed = 1;
};

// "long bed = 30 hr".
study::Stood stood_from(const std::string& text) {
  const std::size_t sign = text.rfind('=');
  const InputError wrong({"", 0, "--stood"}, "\"" + text + "\"", "an area and how long water stood there",
                         "write it like --stood \"long bed = 30 hr\"");
  if (sign == std::string::npos) throw wrong;
  const ParsedQuantity time = parse_quantity(trim(text.substr(sign + 1)), Dimension::time);
  if (!time.ok || time.value < 0 || trim(text.substr(0, sign)).empty()) throw wrong;
  return {trim(text.substr(0, sign)), time.value / 3600};
}

void print_answer(const Context& context, const study::YearLater& answer, const site::Design& design) {
  for (const std::string& sentence : answer.sentences)
    std::printf("%s\n", context.terminal.bold(wrap(sentence)).c_str());
  if (answer.causes.empty()) return;
  std::printf("\nCauses, the best fit first, and how long water would stand with each:\n");
  for (const study::Cause& cause : answer.causes) {
    std::string hours;
    for (std::size_t k = 0; k < cause.hours.size(); ++k)
      hours += (k > 0 ? ", " : "") + answer.hours[k].area + " " + study::standing_words(cause, k);
    const std::string name = cause.name.empty() ? "as built" : cause.name + ", " + cause.severity;
    hours += design.outlets.size() < 2 ? "; the outlet " : cause.outlet_ran ? "; an outlet " : "; no outlet ";
    hours += design.outlets.size() > 1 || cause.outlet_ran ? "runs" : "does not run";
    std::printf("  %s\n      %s\n", wrap(name, 4, 2).c_str(), wrap(hours, 6).c_str());
    if (!cause.check.empty()) std::printf("      %s\n", wrap("Check: " + cause.check, 6).c_str());
  }
}

int year_later(Context& context, const YearLaterArguments& arguments) {
  const site::Site site = read_yard(context, arguments.where);
  if (std::filesystem::exists(arguments.out)) results::prepare_output_folder(arguments.out, site.name);
  study::YearLaterQuestion question;
  question.design = &study::named_design(site, arguments.design);
  question.rain = rain::read_gauge(arguments.rain);
  if (!context.quiet)
    for (const std::string& warning : question.rain.warnings)
      std::fprintf(stderr, "%s\n", wrap(context.terminal.warning(warning), 2, 0).c_str());
  for (const std::string& text : arguments.stood) {
    question.stood.push_back(stood_from(text));
    const std::string& area = question.stood.back().area;
    for (std::size_t k = 0; k + 1 < question.stood.size(); ++k)
      if (question.stood[k].area == area)
        throw InputError({"", 0, "--stood"}, "\"" + area + "\" twice", "one figure an area",
                         "keep the longest time that water stood anywhere in it");
  }
  if (!arguments.outlet.empty()) question.outlet_ran = arguments.outlet == "ran";
  if (question.stood.empty() && !question.outlet_ran)
    throw InputError({"", 0, "--stood"}, "nothing that was seen",
                     "how long water stood, or whether the outlet ran",
                     "write --stood \"long bed = 30 hr\" or --outlet ran");
  question.draws = arguments.plausible;
  question.seed = arguments.seed;
  terrain::Ground ground = terrain::build_ground(site, cell_size(arguments.cell));
  if (arguments.cell.empty())
    ground =
        terrain::build_ground(site, study::draw_cell(ground.grid.cell, ground.grid.cells(), question.draws));
  const std::unique_ptr<study::Executor> executor = ranks::make_executor(*context.ranks, arguments.threads);
  study::YearLater answer;
  {
    Progress progress("Running the real rain", context.terminal.watched() && !context.quiet && !context.json);
    question.progress = [&](double share) {
      progress.update(share);
      return !stop_asked();
    };
    question.keep_finished = true;
    answer = study::compare_with_promise(site, ground, question, *executor);
  }
  if (!executor->leads()) return done;
  const std::string json = study::year_later_json(answer, site.name, LOWSPOT_VERSION);
  if (!arguments.out.empty()) {
    results::prepare_output_folder(arguments.out, site.name);
    results::write_whole_file(std::filesystem::path(arguments.out) / "yearlater.json", json);
    results::write_whole_file(std::filesystem::path(arguments.out) / "yearlater.html",
                              report::year_later_html(answer, question, site, LOWSPOT_VERSION));
  }
  if (context.json)
    std::printf("%s", json.c_str());
  else {
    print_answer(context, answer, *question.design);
    if (!arguments.out.empty())
      std::printf("\nPage to print: %s\n",
                  (std::filesystem::path(arguments.out) / "yearlater.html").string().c_str());
  }
  return answer.stopped.empty() ? done : stopped;
}
} // namespace

void add_yearlater(CLI::App& app, Context& context) {
  CLI::App* command = app.add_subcommand(
      "yearlater", "The real rain and what was seen against what was promised; causes where they part");
  const auto arguments = std::make_shared<YearLaterArguments>();
  command->add_option("SITE", arguments->where, "site.toml or its folder")->required();
  command
      ->add_option("--rain", arguments->rain, "the rain as a gauge wrote it down: a table of time and depth")
      ->required();
  command->add_option("--stood", arguments->stood,
                      "how long water stood after that rain, such as \"long bed = 30 hr\" (may be repeated)");
  command
      ->add_option("--outlet", arguments->outlet, "whether water was seen to run from the outlet: ran, dry")
      ->check(CLI::IsMember({"ran", "dry"}));
  command->add_option("--design", arguments->design,
                      "the design that was built, when there is more than one");
  command->add_option("--out", arguments->out,
                      "folder for yearlater.html (a page to print) and yearlater.json");
  add_cell_option(*command, arguments->cell, ", such as \"1 ft\" (default: coarser than the site's)");
  add_plausible_options(*command, arguments->plausible, arguments->seed,
                        "of the band (default: " + std::to_string(study::usual_draws) + ")");
  add_threads_option(*command, arguments->threads);
  add_answer_options(*command, context);
  command->footer(
      "Example:\n  lowspot yearlater my-yard --rain gauge.csv --stood \"long bed = 30 hr\" --outlet ran\n"
      "gauge.csv has a column time (2025-05-03 10:00) and one of rain, rain_in or rain_mm.\n"
      "Times of the gauge's table begin their intervals; call the column time_end where they end them, "
      "as\nreadings by hand do. Hours run from the last rain of the table; the ground starts as the site "
      "file says.");
  command->callback([&context, arguments] {
    context.shares_work = true;
    context.chosen = [&context, arguments] { return year_later(context, *arguments); };
  });
}

} // namespace lowspot::cli
