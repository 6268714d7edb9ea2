#include <algorithm>
#include <cstdio>
#include <memory>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include <lowspot/catalog/catalog.hpp>
#include <lowspot/results/json_tools.hpp>
#include <lowspot/results/output_folder.hpp>
#include <lowspot/study/named_design.hpp>
#include <lowspot/study/remedies.hpp>
#include <lowspot/study/verdict.hpp>
#include <lowspot/terrain/ground.hpp>

#include "commands.hpp"
#include "interrupt.hpp"
#include "read_yard.hpp"
#include "run_options.hpp"

namespace lowspot::cli {
namespace {

struct RemedyArguments {
  std::string where, design, out, cell;
  std::string method = "dynamic";
  int threads = 0;
};

nlohmann::ordered_json as_json(const study::Remedies& remedies) {
  const auto one = [&](const study::Remedy& remedy) {
    nlohmann::ordered_json areas = nlohmann::ordered_json::array();
    for (std::size_t k = 0; k < remedy.hours.size(); ++k)
      areas.push_back({{"name", remedies.areas[k]},
                       {"standing_hours_after_rain", remedy.hours[k]},
                       {"still_standing", static_cast<bool>(remedy.still_standing[k])}});
    return nlohmann::ordered_json{{"id", remedy.id},
                                  {"name", remedy.name},
                                  {"areas", std::move(areas)},
                                  {"clears_within_target", remedy.clears},
                                  {"limited_by", remedy.limited_by},
                                  {"not_possible", remedy.not_possible},
                                  {"newly_fails", remedy.newly_fails}};
  };
  nlohmann::ordered_json json{{"design", remedies.design},
                              {"stopped", remedies.stopped},
                              {"sentence", remedies.sentence},
                              {"as_is", one(remedies.as_is)},
                              {"as_designed", one(remedies.as_designed)},
                              {"changes", nlohmann::ordered_json::array()},
                              {"clogging", nlohmann::ordered_json::array()}};
  for (const study::Remedy& remedy : remedies.changes) json["changes"].push_back(one(remedy));
  for (const study::Remedy& remedy : remedies.clogging) json["clogging"].push_back(one(remedy));
  return json;
}

// One column an area, wide enough for its name and all hours.
using Widths = std::vector<std::size_t>;

std::string hours_text(const study::Remedy& remedy, std::size_t area) {
  return remedy.still_standing[area] ? "does not clear" : study::plain_hours(remedy.hours[area]);
}

std::string columns(const study::Remedy& remedy, const Widths& widths) {
  std::string line;
  for (std::size_t k = 0; k < remedy.hours.size(); ++k) line += flush_left(hours_text(remedy, k), widths[k]);
  return line + remedy.limited_by;
}

// All rows in one layout, under their headings.
void print_table(const study::Remedies& remedies) {
  std::string head;
  Widths widths;
  std::vector<const study::Remedy*> shown{&remedies.as_is, &remedies.as_designed};
  for (const study::Remedy& remedy : remedies.changes) shown.push_back(&remedy);
  for (const study::Remedy& remedy : remedies.clogging) shown.push_back(&remedy);
  for (std::size_t area = 0; area < remedies.areas.size(); ++area) {
    std::size_t width = letters(remedies.areas[area]);
    for (const study::Remedy* remedy : shown)
      if (area < remedy->hours.size()) width = std::max(width, letters(hours_text(*remedy, area)));
    widths.push_back(width + 2);
    head += flush_left(remedies.areas[area], widths.back());
  }
  Rows rows(2, 36);
  rows.add("A puddle stands after the rain for", head + "limited by");
  for (const study::Remedy* remedy : shown) rows.add(remedy->name, columns(*remedy, widths));
  std::printf("%s\n", rows.line(0).c_str());
  for (std::size_t k = 0; k < shown.size(); ++k) {
    if (k == 2 && !remedies.changes.empty())
      std::printf("\nOne thing changed at a time, what buys most first\n");
    if (k == 2 + remedies.changes.size()) std::printf("\nAfter years in the ground\n");
    if (shown[k]->not_possible.empty())
      std::printf("%s\n", rows.line(k + 1).c_str());
    else
      std::printf("  %s\n",
                  wrap(shown[k]->name + " cannot be built: " + shown[k]->not_possible, 6, 2).c_str());
    for (const std::string& name : shown[k]->newly_fails)
      std::printf("      %s\n", wrap("then fails: " + name, 8, 6).c_str());
  }
}

void print_answer(const Context& context, const study::Remedies& remedies) {
  std::printf("%s\n\n", context.terminal.bold(wrap(remedies.sentence)).c_str());
  print_table(remedies);
  std::printf("\n%s\n", wrap(std::string("These figures are for the likely value of each input; soil can "
                                         "differ tenfold.") +
                             (remedies.beds_besides ? " The beds are not judged here: lowspot compare says "
                                                      "whether they keep what was agreed."
                                                    : ""))
                            .c_str());
}

int remedies(Context& context, const RemedyArguments& arguments) {
  const catalog::Catalog catalog = catalog::read_catalog(catalog_folder());
  const site::Site site = read_yard(context, arguments.where);
  if (std::filesystem::exists(arguments.out)) results::prepare_output_folder(arguments.out, site.name);
  const site::Design& design = study::named_design(site, arguments.design);
  const terrain::Ground ground = terrain::build_ground(site, cell_size(arguments.cell));
  study::RemedyOptions options;
  options.threads = arguments.threads;
  if (arguments.method == "routed") options.method = surface::Method::routed;
  options.keep_finished = true;
  study::Remedies found;
  {
    Progress progress("Running the changes", context.terminal.watched() && !context.quiet && !context.json);
    options.progress = [&](double share) {
      progress.update(share);
      return !stop_asked();
    };
    found = study::find_remedies(site, ground, catalog, design, options);
  }
  if (!arguments.out.empty()) {
    const std::filesystem::path out = arguments.out;
    results::prepare_output_folder(out, site.name);
    results::write_whole_file(out / "remedies.json", results::json_text(as_json(found)) + "\n");
  }
  if (context.json)
    std::printf("%s\n", results::json_text(as_json(found)).c_str());
  else
    print_answer(context, found);
  return found.stopped.empty() ? done : stopped;
}
} // namespace

void add_remedies(CLI::App& app, Context& context) {
  CLI::App* command = app.add_subcommand(
      "remedies", "What the next pipe size, stone, cap or depth would buy, and how much clogging is borne");
  const auto arguments = std::make_shared<RemedyArguments>();
  command->add_option("SITE", arguments->where, "site.toml or its folder")->required();
  command->add_option("--design", arguments->design, "the design to change, when there is more than one");
  add_cell_option(*command, arguments->cell);
  add_method_option(*command, arguments->method);
  add_threads_option(*command, arguments->threads);
  command->add_option("--out", arguments->out, "folder for remedies.json");
  add_answer_options(*command, context);
  command->footer("Example:\n  lowspot remedies my-yard --design \"drain to the fence\" --cell \"1 ft\"\n"
                  "Each change is a run of its own: coarse cells are enough to rank them.");
  command->callback([&context, arguments] {
    context.chosen = [&context, arguments] { return remedies(context, *arguments); };
  });
}

} // namespace lowspot::cli
