#include <algorithm>
#include <cmath>
#include <cstdio>
#include <memory>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include <lowspot/base/text.hpp>
#include <lowspot/job/takeoff.hpp>
#include <lowspot/report/takeoff_table.hpp>
#include <lowspot/results/json_tools.hpp>
#include <lowspot/results/output_folder.hpp>
#include <lowspot/study/named_design.hpp>
#include <lowspot/terrain/ground.hpp>

#include "commands.hpp"
#include "read_yard.hpp"
#include "run_options.hpp"

namespace lowspot::cli {
namespace {

struct TakeoffArguments {
  std::string where, design, out;
};

void print_json(const job::Takeoff& takeoff) {
  nlohmann::ordered_json json;
  json["design"] = takeoff.design;
  json["lines"] = nlohmann::ordered_json::array();
  const auto number = [](double value) {
    return std::isfinite(value) ? nlohmann::ordered_json(value) : nlohmann::ordered_json(nullptr);
  };
  for (const job::TakeoffLine& line : takeoff.lines)
    json["lines"].push_back({{"group", line.group},
                             {"item", line.item},
                             {"unit", report::si_unit(line.measure)},
                             {"net", line.net},
                             {"ordered", line.ordered},
                             {"allowance", line.allowance},
                             {"mass_kg", line.mass},
                             {"loads", line.loads},
                             {"price", number(line.price)},
                             {"per", line.per},
                             {"cost", number(line.cost)}});
  json["cost"] = takeoff.cost;
  json["lines_without_price"] = takeoff.without_price;
  json["notes"] = takeoff.notes;
  std::printf("%s\n", results::json_text(json).c_str());
}

void print_table(const Context& context, const site::Site& site, const job::Takeoff& takeoff) {
  std::printf("%s\n\n", context.terminal.bold(wrap("To order for \"" + takeoff.design + "\"")).c_str());
  const std::vector<report::TakeoffRow> rows = report::takeoff_rows(takeoff, site);
  const bool priced =
      std::any_of(rows.begin(), rows.end(), [](const report::TakeoffRow& row) { return !row.cost.empty(); });
  Rows table(2, 26);
  const auto line = [&](const report::TakeoffRow& row) {
    std::string told =
        flush_right(row.net, 11) + " " + flush_right(row.ordered, 11) + " " + flush_right(row.weight, 17);
    if (priced) told += " " + flush_right(row.cost, 11);
    table.add(row.item, told);
  };
  report::TakeoffRow head;
  head.item = "item", head.net = "in place", head.ordered = "to order", head.cost = "cost";
  line(head);
  for (const report::TakeoffRow& row : rows) line(row);
  std::printf("%s", table.text().c_str());
  std::printf("\n%s\n", wrap(report::takeoff_sentence(takeoff, site)).c_str());
  for (const std::string& factor : report::takeoff_factors(takeoff))
    std::printf("  - %s\n", wrap(factor, 4).c_str());
  if (context.quiet) return;
  for (const std::string& note : takeoff.notes)
    std::fprintf(stderr, "%s\n", wrap(context.terminal.warning(note), 2, 0).c_str());
}

int takeoff(Context& context, const TakeoffArguments& arguments) {
  const site::Site site = read_yard(context, arguments.where);
  const site::Design& design = study::named_design(site, arguments.design);
  const terrain::Ground ground = terrain::build_ground(site);
  const job::Takeoff takeoff = job::take_off(site, design, ground);
  if (!arguments.out.empty()) {
    const std::filesystem::path out = arguments.out;
    results::prepare_output_folder(out, site.name);
    results::write_whole_file(out / "takeoff.csv", report::takeoff_csv(takeoff, site));
    results::write_whole_file(out / "takeoff.html", report::takeoff_html(takeoff, site, LOWSPOT_VERSION));
  }
  if (context.json)
    print_json(takeoff);
  else
    print_table(context, site, takeoff);
  return done;
}
} // namespace

void add_takeoff(CLI::App& app, Context& context) {
  CLI::App* command =
      app.add_subcommand("takeoff", "Quantities to order for a design, and their cost at your own rates");
  const auto arguments = std::make_shared<TakeoffArguments>();
  command->add_option("SITE", arguments->where, "site.toml or its folder")->required();
  command->add_option("--design", arguments->design, "the design to take off, when there is more than one");
  command->add_option("--out", arguments->out, "folder for takeoff.csv and takeoff.html");
  add_answer_options(*command, context, "no notes");
  command->footer(
      "Example:\n  lowspot takeoff my-yard --design \"drain to the fence\" --out my-yard/results\n"
      "Waste, laps and swell stand in [takeoff] of the site file, prices of your own in [[rate]].");
  command->callback([&context, arguments] {
    context.chosen = [&context, arguments] { return takeoff(context, *arguments); };
  });
}

} // namespace lowspot::cli
