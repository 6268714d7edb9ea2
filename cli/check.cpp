#include <cstdio>
#include <memory>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include <lowspot/base/text.hpp>
#include <lowspot/catalog/catalog.hpp>
#include <lowspot/rain/hyetograph.hpp>
#include <lowspot/site/read_site.hpp>
#include <lowspot/terrain/ground.hpp>
#include <lowspot/terrain/low_spots.hpp>
#include <lowspot/yard/yard.hpp>

#include "commands.hpp"

namespace lowspot::cli {
namespace {

struct Findings {
  std::vector<std::string> warnings, unknown;
  std::vector<site::Assumption> assumptions;
};

// What a careful person would still go and find out.
std::vector<std::string> unknowns(const site::Site& site) {
  std::vector<std::string> list;
  if (site.ground.levels.empty() && site.ground.raster.empty())
    list.push_back("levels: no shots and no raster");
  for (const site::Soil& soil : site.soils)
    if (!soil.tight_conductivity.is_band())
      list.push_back(
          "soil '" + soil.name +
          "': how slow the tight layer is; no band is given and no hole test was read, though it decides how "
          "long water stands");
  if (site.designs.empty()) list.push_back("designs: none proposed, so only the yard as it is can be run");
  return list;
}

Findings examine(const site::Site& site) {
  Findings findings;
  const terrain::Ground ground = terrain::build_ground(site);
  const rain::Hyetograph rain = rain::make_hyetograph(site);
  findings.warnings = site.warnings;
  for (const std::vector<std::string>& more : {ground.warnings, rain.warnings})
    findings.warnings.insert(findings.warnings.end(), more.begin(), more.end());
  // Building each yard finds designs that cannot be built on this ground.
  for (const site::Design& design : site.designs) {
    const yard::Yard yard(site, ground, rain, &design);
    for (const std::string& warning : yard.warnings())
      findings.warnings.push_back("design '" + design.name + "': " + warning);
  }
  findings.assumptions = site.assumptions;
  findings.assumptions.insert(findings.assumptions.end(), ground.assumptions.begin(),
                              ground.assumptions.end());
  findings.unknown = unknowns(site);
  return findings;
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
  std::printf("%s\n", json.dump(2).c_str());
}

int check(Context& context, const std::string& where) {
  const site::Site site = site::read_site(where, catalog::read_catalog(catalog_folder()));
  const Findings findings = examine(site);
  if (context.json) {
    print_json(site, findings);
    return done;
  }
  std::printf("%s\n", context.terminal.bold(site.name + " can be run.").c_str());
  std::printf("  %zu areas, %zu buildings, %zu soils, %zu designs\n", site.areas.size(),
              site.buildings.size(), site.soils.size(), site.designs.size());
  if (!findings.warnings.empty())
    std::printf("\n%s\n", context.terminal.bold("Unlikely or worth a second look").c_str());
  for (const std::string& warning : findings.warnings) std::printf("  - %s\n", wrap(warning, 96, 4).c_str());
  if (!findings.unknown.empty()) std::printf("\n%s\n", context.terminal.bold("UNKNOWN").c_str());
  for (const std::string& item : findings.unknown) std::printf("  - %s\n", wrap(item, 96, 4).c_str());
  if (!findings.assumptions.empty())
    std::printf("\n%s\n", context.terminal.bold("Not in the file, so assumed").c_str());
  for (const site::Assumption& assumption : findings.assumptions)
    std::printf("  %-44s %s  [%s]\n", assumption.key.c_str(), assumption.value.c_str(),
                assumption.tag.c_str());
  return done;
}
} // namespace

void add_check(CLI::App& app, Context& context) {
  CLI::App* command =
      app.add_subcommand("check", "Read everything; say what is wrong, unlikely, assumed or UNKNOWN");
  const auto where = std::make_shared<std::string>();
  command->add_option("SITE", *where, "site.toml or its folder")->required();
  command->add_flag("--json", context.json, "the answer as JSON on standard output");
  command->footer("Example:\n  lowspot check my-yard");
  command->callback(
      [&context, where] { context.chosen = [&context, where] { return check(context, *where); }; });
}

} // namespace lowspot::cli
