#include <cmath>
#include <cstdio>
#include <memory>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include <lowspot/base/error.hpp>
#include <lowspot/base/quantity.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/report/hose_page.hpp>
#include <lowspot/results/json_tools.hpp>
#include <lowspot/results/output_folder.hpp>
#include <lowspot/study/hose_test.hpp>
#include <lowspot/study/named_design.hpp>
#include <lowspot/study/progress_board.hpp>
#include <lowspot/terrain/ground.hpp>

#include "commands.hpp"
#include "interrupt.hpp"
#include "read_yard.hpp"
#include "run_options.hpp"

namespace lowspot::cli {
namespace {

struct HoseArguments {
  std::string where, design, at, out, cell;
  std::string flow = "5 gal/min", duration = "20 min";
  int threads = 0;
};

double quantity(const std::string& option, const std::string& text, Dimension dimension,
                const std::string& example) {
  const ParsedQuantity read = parse_quantity(text, dimension);
  if (!read.ok || !(read.value > 0))
    throw InputError({"", 0, option}, "'" + text + "'",
                     "a " + dimension_name(dimension) + " above zero with its unit",
                     "Write it with a unit, in quotes: " + option + " " + example + ".");
  return read.value;
}

Point place(const std::string& text, const site::Site& site) {
  Point at;
  char rest = 0;
  if (std::sscanf(text.c_str(), " %lf , %lf %c", &at.x, &at.y, &rest) != 2)
    throw InputError({"", 0, "--at"}, "'" + text + "'",
                     "two coordinates in " + site.units + ", such as 27,45.5",
                     "Give x and y with a comma between.");
  return {at.x * site.unit, at.y * site.unit};
}

nlohmann::ordered_json as_json(const study::HoseTest& test) {
  const auto number = [](double value) {
    return std::isfinite(value) ? nlohmann::ordered_json(value) : nlohmann::ordered_json(nullptr);
  };
  nlohmann::ordered_json outlets = nlohmann::ordered_json::array();
  for (const study::HoseOutlet& outlet : test.outlets)
    outlets.push_back({{"name", outlet.name},
                       {"first_water_s", number(outlet.first_water)},
                       {"came_out_m3", outlet.volume}});
  return {{"design", test.design},
          {"at", {test.at.x, test.at.y}},
          {"place", test.place},
          {"over_trench", test.over_trench},
          {"hose_m3_per_s", test.flow},
          {"hose_s", test.duration},
          {"given_m3", test.given},
          {"first_water_s", number(test.first_water)},
          {"held_at_first_water_m3", test.held_at_first_water},
          {"outlet_flow_m3_per_s", test.last_flow},
          {"share_of_hose", test.last_flow / test.flow},
          {"steady", test.steady},
          {"pump_starts", test.cycles},
          {"well", test.well},
          {"well_deepest_m", test.well_depth},
          {"outlet_stops_after_s", number(test.outlet_stops)},
          {"weep_first_water_s", number(test.weep_first)},
          {"weep_stops_after_s", number(test.weep_stops)},
          {"came_out_of_weeps_m3", test.through_weeps},
          {"puddle_gone_after_s", number(test.puddle_gone)},
          {"deepest_m", test.deepest},
          {"full_flow_capacity_m3_per_s", test.capacity},
          {"came_out_of_outlets_m3", test.through_outlets},
          {"outlets", std::move(outlets)},
          {"whereabouts",
           {{"left_by_drains_m3", test.by_outlets},
            {"left_over_edges_m3", test.over_edges},
            {"on_ground_m3", test.on_ground},
            {"in_drain_m3", test.in_drain},
            {"of_that_in_pits_m3", test.in_wells},
            {"into_ground_m3", test.to_soil}}},
          {"says", test.says},
          {"proves", test.proves}};
}

void write_out(const std::filesystem::path& out, const site::Site& site, const study::HoseTest& test) {
  results::prepare_output_folder(out, site.name);
  results::write_whole_file(out / "hosetest.json", results::json_text(as_json(test)) + "\n");
  std::string table = "time_s,hose_m3_per_s,outlet_m3_per_s,weep_m3_per_s\n";
  for (std::size_t k = 0; k < test.time.size(); ++k)
    table += number_text(test.time[k]) + "," + number_text(test.time[k] <= test.duration ? test.flow : 0) +
             "," + number_text(test.outlet_flow[k]) + "," + number_text(test.weep_flow[k]) + "\n";
  results::write_whole_file(out / "hosetest.csv", table);
  results::write_whole_file(out / "hosetest.html", report::hose_html(test, site, LOWSPOT_VERSION));
}

int hosetest(Context& context, const HoseArguments& arguments) {
  const site::Site site = read_yard(context, arguments.where);
  if (std::filesystem::exists(arguments.out)) results::prepare_output_folder(arguments.out, site.name);
  const site::Design& design = study::named_design(site, arguments.design);
  study::HoseOptions options;
  options.flow = quantity("--flow", arguments.flow, Dimension::flow, "\"5 gal/min\"");
  options.threads = arguments.threads;
  options.duration = quantity("--for", arguments.duration, Dimension::time, "\"20 min\"");
  if (!arguments.at.empty()) options.at = place(arguments.at, site);
  const terrain::Ground ground = terrain::build_ground(site, cell_size(arguments.cell));
  study::HoseTest test;
  {
    Progress progress("Running the hose", context.terminal.watched() && !context.quiet && !context.json);
    options.progress = [&](double share) {
      progress.update(share);
      if (stop_asked()) throw study::Stopped{};
    };
    test = study::hose_test(site, ground, design, options);
  }
  if (!arguments.out.empty()) write_out(arguments.out, site, test);
  if (context.json) {
    std::printf("%s\n", results::json_text(as_json(test)).c_str());
    return done;
  }
  std::printf("%s\n\n", context.terminal.bold(wrap("Hose test of \"" + design.name + "\"")).c_str());
  for (const std::string& sentence : test.says) std::printf("%s\n", wrap(sentence).c_str());
  std::printf("\n%s\n", context.terminal.bold("What it proves").c_str());
  for (const std::string& sentence : test.proves) std::printf("  - %s\n", wrap(sentence, 4).c_str());
  if (!arguments.out.empty())
    std::printf("\nPrint:   %s\nFigures: %s\n",
                (std::filesystem::path(arguments.out) / "hosetest.html").string().c_str(),
                (std::filesystem::path(arguments.out) / "hosetest.json").string().c_str());
  return done;
}
} // namespace

void add_hosetest(CLI::App& app, Context& context) {
  CLI::App* command = app.add_subcommand(
      "hosetest", "Predict the test at hand-over: a hose on the ground, a watch at the outlet");
  const auto arguments = std::make_shared<HoseArguments>();
  command->add_option("SITE", arguments->where, "site.toml or its folder")->required();
  command->add_option("--design", arguments->design, "the design to test, when there is more than one");
  command->add_option("--at", arguments->at,
                      "where the hose lies, x,y in the site's units (default: the lowest judged ground)");
  command->add_option("--flow", arguments->flow, "of the hose")->capture_default_str();
  command->add_option("--for", arguments->duration, "how long it runs")->capture_default_str();
  add_cell_option(*command, arguments->cell);
  add_threads_option(*command, arguments->threads, "threads for the run");
  command->add_option("--out", arguments->out, "folder for hosetest.html, hosetest.json and hosetest.csv");
  add_answer_options(*command, context);
  command->footer("Example:\n  lowspot hosetest my-yard --design \"drain to the fence\" --flow \"5 gal/min\" "
                  "--for \"20 min\"");
  command->callback([&context, arguments] {
    context.chosen = [&context, arguments] { return hosetest(context, *arguments); };
  });
}

} // namespace lowspot::cli
