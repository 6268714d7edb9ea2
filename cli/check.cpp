#include <cmath>
#include <cstdio>
#include <memory>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include <lowspot/base/text.hpp>
#include <lowspot/checks/check_design.hpp>
#include <lowspot/job/takeoff.hpp>
#include <lowspot/rain/hyetograph.hpp>
#include <lowspot/results/check_json.hpp>
#include <lowspot/results/json_tools.hpp>
#include <lowspot/site/unknowns.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/terrain/ground.hpp>
#include <lowspot/terrain/low_spots.hpp>
#include <lowspot/yard/yard.hpp>

#include "commands.hpp"
#include "print_checks.hpp"
#include "read_yard.hpp"
#include "run_options.hpp"

namespace lowspot::cli {
namespace {

struct Findings {
  std::vector<std::string> warnings, unknown;
  std::vector<site::Assumption> assumptions;
  struct Checked { // of the yard, or of one design
    std::string design;
    std::vector<results::CheckRecord> list;
  };
  std::vector<Checked> checks;
};

Findings examine(const site::Site& site, double cell) {
  Findings findings;
  const terrain::Ground ground = terrain::build_ground(site, cell);
  const rain::Hyetograph rain = rain::make_hyetograph(site);
  findings.warnings = site.warnings;
  for (const std::vector<std::string>& more : {ground.warnings, rain.warnings})
    findings.warnings.insert(findings.warnings.end(), more.begin(), more.end());
  if (site.designs.empty()) findings.checks.push_back({"", checks::check_yard(site, ground)});
  // Building each yard finds designs that cannot be built on this ground.
  for (const site::Design& design : site.designs) {
    const yard::Yard yard(site, ground, rain, &design);
    for (const std::string& warning : yard.warnings())
      findings.warnings.push_back("design '" + design.name + "': " + warning);
    findings.checks.push_back({design.name, checks::check_design(site, ground, design)});
    if (!site.ordering.rates.empty()) job::take_off(site, design, ground); // refuses a slip in a rate
  }
  findings.assumptions = site.assumptions;
  findings.assumptions.insert(findings.assumptions.end(), ground.assumptions.begin(),
                              ground.assumptions.end());
  if (std::isfinite(cell))
    std::erase_if(findings.assumptions, [](const site::Assumption& one) { return one.key == "site.cell"; });
  findings.unknown = site::unknowns(site);
  return findings;
}

// Holes: a line of figures and what it means.
void print_holes(const Context& context, const site::Site& site) {
  for (const site::Soil& soil : site.soils) {
    if (soil.holes.empty()) continue;
    std::printf("\n%s\n", context.terminal.bold("Hole tests of soil '" + soil.name + "'").c_str());
    std::printf("  %-8s %-12s %-9s %-9s %-14s %s\n", "hole", "speaks for", "wide", "water", "raw rate",
                "conductivity (low to high)");
    for (const site::HoleTest& hole : soil.holes) {
      const auto speed = [&](double value) { return site::written(value, Dimension::speed, site); };
      const std::string band = speed(hole.conductivity.likely) + " (" + speed(hole.conductivity.low) +
                               " to " + speed(hole.conductivity.high) + ")";
      std::printf("  %-8s %-12s %-9s %-9s %-14s %s\n", hole.name.c_str(),
                  hole.layer.empty() ? "neither" : hole.layer.c_str(),
                  site::written(hole.diameter, Dimension::length, site).c_str(),
                  hole.used ? site::written(hole.water_depth, Dimension::length, site).c_str() : "-",
                  hole.used ? speed(hole.raw_rate).c_str() : "-", hole.used ? band.c_str() : "none");
    }
    for (const site::HoleTest& hole : soil.holes)
      std::printf("  - %s\n", wrap("Hole " + hole.name + ": " + hole.says, 4).c_str());
    for (const std::string& sentence : soil.holes_say) std::printf("  - %s\n", wrap(sentence, 4).c_str());
  }
}

nlohmann::ordered_json holes_json(const site::Site& site) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const site::Soil& soil : site.soils)
    for (const site::HoleTest& hole : soil.holes) {
      nlohmann::ordered_json one{{"soil", soil.name},
                                 {"hole", hole.name},
                                 {"layer", hole.layer},
                                 {"diameter_m", hole.diameter},
                                 {"used", hole.used}};
      if (hole.used) {
        one["water_depth_m"] = hole.water_depth;
        one["raw_rate_m_per_s"] = hole.raw_rate;
        one["conductivity_m_per_s"] = {hole.conductivity.low, hole.conductivity.likely,
                                       hole.conductivity.high};
      }
      one["says"] = hole.says;
      list.push_back(one);
    }
  return list;
}

void print_json(const site::Site& site, const Findings& findings) {
  nlohmann::ordered_json json;
  json["site"] = site.name;
  json["warnings"] = findings.warnings;
  json["defaults"] = nlohmann::ordered_json::array();
  for (const site::Assumption& assumption : findings.assumptions)
    json["defaults"].push_back(
        {{"key", assumption.key}, {"value", assumption.value}, {"tag", assumption.tag}});
  json["unknown"] = findings.unknown;
  json["checks"] = nlohmann::ordered_json::array();
  for (const Findings::Checked& checked : findings.checks)
    json["checks"].push_back({{"design", checked.design}, {"checks", results::checks_json(checked.list)}});
  json["holes"] = holes_json(site);
  std::printf("%s\n", results::json_text(json).c_str());
}

// "1 area", "3 areas".
std::string counted(std::size_t number, const std::string& what) {
  return std::to_string(number) + " " + what + (number == 1 ? "" : "s");
}

struct CheckArguments {
  std::string where, cell;
};

int check(Context& context, const CheckArguments& arguments) {
  const site::Site site = read_yard(context, arguments.where);
  const Findings findings = examine(site, cell_size(arguments.cell));
  if (context.json) print_json(site, findings);
  if (context.json || context.quiet) return done;
  std::printf("%s\n", context.terminal.bold(wrap(site.name + " can be run.")).c_str());
  std::printf("  %s, %s, %s, %s\n", counted(site.areas.size(), "area").c_str(),
              counted(site.buildings.size(), "building").c_str(), counted(site.soils.size(), "soil").c_str(),
              counted(site.designs.size(), "design").c_str());
  if (!findings.warnings.empty())
    std::printf("\n%s\n", context.terminal.bold("Unlikely or worth a second look").c_str());
  for (const std::string& warning : findings.warnings) std::printf("  - %s\n", wrap(warning, 4).c_str());
  print_holes(context, site);
  for (const Findings::Checked& checked : findings.checks)
    print_checks(context,
                 checked.design.empty() ? "Checks of the yard"
                                        : "Checks of \"" + checked.design + "\" that need no run",
                 checked.list);
  if (!findings.unknown.empty()) std::printf("\n%s\n", context.terminal.bold("UNKNOWN").c_str());
  for (const std::string& item : findings.unknown) std::printf("  - %s\n", wrap(item, 4).c_str());
  if (!findings.assumptions.empty())
    std::printf("\n%s\n", context.terminal.bold("Not in the file, so assumed").c_str());
  for (const site::Assumption& assumption : findings.assumptions)
    std::printf("  %s %s\n", flush_left(assumption.key, 44).c_str(),
                wrap(assumption.value + " [" + assumption.tag + "]", 47).c_str());
  return done;
}
} // namespace

void add_check(CLI::App& app, Context& context) {
  CLI::App* command =
      app.add_subcommand("check", "Read everything; say what is wrong, unlikely, assumed or UNKNOWN");
  const auto arguments = std::make_shared<CheckArguments>();
  command->add_option("SITE", arguments->where, "site.toml or its folder")->required();
  add_cell_option(*command, arguments->cell);
  add_answer_options(*command, context, "say nothing but what cannot be run; the exit code says the rest");
  command->footer("Example:\n  lowspot check my-yard");
  command->callback([&context, arguments] {
    context.chosen = [&context, arguments] { return check(context, *arguments); };
  });
}

} // namespace lowspot::cli
