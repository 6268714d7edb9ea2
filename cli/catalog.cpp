#include <cstdio>
#include <memory>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/catalog/catalog.hpp>
#include <lowspot/results/json_tools.hpp>

#include "commands.hpp"

namespace lowspot::cli {
namespace {

struct Line {
  std::string name;
  std::vector<std::pair<std::string, std::string>> figures; // what, value with unit and range
  catalog::RowSource from;
};
struct Table {
  std::string name;
  std::string meaning;
  std::vector<Line> lines;
};

// A figure with its range, scaled to a unit people read.
std::string show(const catalog::Figure& figure, double unit, const std::string& unit_name) {
  std::string text = rounded(figure.value / unit, 3);
  if (figure.low != figure.high)
    text += " (" + rounded(figure.low / unit, 3) + " to " + rounded(figure.high / unit, 3) + ")";
  return text + (unit_name.empty() ? "" : " " + unit_name);
}
std::string show(double value, double unit, const std::string& unit_name) {
  return show(catalog::Figure{value, value, value}, unit, unit_name);
}

constexpr double inch = 0.0254;

// In which units the tables are shown.
struct Scale {
  double si = 1;
  std::string name;
};
struct Scales {
  Scale size, rate, daily, openings, speed;
};
Scales scales_in(bool metric) {
  constexpr double hour = 3600, day = 86400;
  if (metric)
    return {{1e-3, "mm"}, {1e-3 / hour, "mm/hr"}, {1e-3 / day, "mm/d"}, {1e-4, "cm2/m"}, {1, "m/s"}};
  return {{inch, "in"},
          {inch / hour, "in/hr"},
          {inch / day, "in/d"},
          {inch * inch / 0.3048, "in2/ft"},
          {0.3048, "ft/s"}};
}
template <typename Value>
std::string show(const Value& value, const Scale& scale) {
  return show(value, scale.si, scale.name);
}

Table covers(const catalog::Catalog& catalog, const Scales& in) {
  Table table{"covers", "what lies on the ground", {}};
  for (const catalog::Cover& row : catalog.covers)
    table.lines.push_back({row.name,
                           {{"Manning n", show(row.manning_n, 1, "")},
                            {"depression storage", show(row.depression_storage, in.size)},
                            {"takes water in", row.impervious ? "no" : "yes"}},
                           row.from});
  return table;
}
Table soils(const catalog::Catalog& catalog, const Scales& in) {
  Table table{"soils", "topsoil by texture", {}};
  for (const catalog::SoilTexture& row : catalog.soils)
    table.lines.push_back({row.name,
                           {{"conductivity", show(row.conductivity, in.rate)},
                            {"in the laboratory, saturated", show(row.saturated_conductivity, in.rate)},
                            {"porosity", show(row.porosity, 1, "")},
                            {"suction at the front", show(row.wetting_front_suction, in.size)},
                            {"drainable porosity", show(row.drainable_porosity, 1, "")}},
                           row.from});
  return table;
}
Table pipes(const catalog::Catalog& catalog, const Scales& in) {
  Table table{"pipes", "add \", slotted\" or \", solid\" to the name", {}};
  for (const catalog::Pipe& row : catalog.pipes)
    table.lines.push_back({row.name,
                           {{"inside", show(row.inside_diameter, in.size)},
                            {"Manning n", show(row.manning_n, 1, "")},
                            {"openings", row.slot_area > 0 ? show(row.slot_area, in.openings) : "none made"}},
                           row.from});
  return table;
}
Table stones(const catalog::Catalog& catalog, const Scales& in) {
  Table table{"stone", "fill of a trench", {}};
  for (const catalog::Stone& row : catalog.stones)
    table.lines.push_back(
        {row.name,
         {{"porosity", show(row.porosity, 1, "")}, {"conductivity", show(row.conductivity, in.speed)}},
         row.from});
  return table;
}
Table fabrics(const catalog::Catalog& catalog) {
  Table table{"fabric", "cloth round the stone", {}};
  for (const catalog::Fabric& row : catalog.fabrics)
    table.lines.push_back({row.name, {{"permittivity", show(row.permittivity, 1, "1/s")}}, row.from});
  return table;
}
Table caps(const catalog::Catalog& catalog, const Scales& in) {
  Table table{"caps", "what lies over the stone", {}};
  for (const catalog::Cap& row : catalog.caps)
    table.lines.push_back({row.name,
                           {{"conductivity", row.conductivity.value > 0 ? show(row.conductivity, in.rate)
                                             : row.depth > 0            ? "that of the yard's topsoil"
                                                                        : "that of the stone"},
                            {"depth", show(row.depth, in.size)}},
                           row.from});
  return table;
}
Table plants(const catalog::Catalog& catalog, const Scales& in) {
  Table table{"plants", "what beds hold", {}};
  for (const catalog::Plant& row : catalog.plants)
    table.lines.push_back({row.name,
                           {{"roots", show(row.root_depth, in.size)},
                            {"crop coefficient", show(row.crop_coefficient, 1, "")},
                            {"hours under water to damage", show(row.hours_to_damage, 3600, "")},
                            {"stands wet feet", row.wet_feet}},
                           row.from});
  return table;
}
Table climate(const catalog::Catalog& catalog, const Scales& in) {
  Table table{"climate", "reference evapotranspiration and warmth by month", {}};
  for (const catalog::ClimateMonth& row : catalog.climate)
    table.lines.push_back(
        {row.month,
         {{"reference", show(row.reference_et, in.daily)}, {"days up to", show(row.daily_high, 1, "deg C")}},
         row.from});
  return table;
}

// As the source writes it; in a yard in metres a length or speed of it turned into those.
std::string limit_figure(const catalog::PracticeLimit& row, const Scales& in) {
  const bool metric = in.speed.si == 1;
  if (metric && row.kind == catalog::LimitKind::length) return show(row.value, in.size);
  if (metric && row.kind == catalog::LimitKind::velocity) return show(row.value, in.speed);
  return row.written;
}

Table limits(const catalog::Catalog& catalog, const Scales& in) {
  Table table{"limits", "what works are held against; [limits] in the site file replaces any of them", {}};
  for (const catalog::PracticeLimit& row : catalog.limits)
    table.lines.push_back({row.name,
                           {{row.meaning, row.written.empty() ? std::string("no general figure: ask")
                                                              : (row.at_least ? "at least " : "at most ") +
                                                                    limit_figure(row, in)}},
                           row.from});
  return table;
}

// Adding a table touches this list alone.
std::vector<Table> all_tables(const catalog::Catalog& catalog, bool metric) {
  const Scales in = scales_in(metric);
  return {covers(catalog, in), soils(catalog, in),   pipes(catalog, in),
          stones(catalog, in), fabrics(catalog),     caps(catalog, in),
          plants(catalog, in), climate(catalog, in), limits(catalog, in)};
}

void print_table(const Context& context, const Table& table) {
  std::printf("%s\n", wrap(context.terminal.bold(table.name) + ": " + table.meaning).c_str());
  for (const Line& line : table.lines) {
    std::printf("  \"%s\"\n", line.name.c_str());
    std::string figures;
    for (const auto& [what, value] : line.figures)
      figures += (figures.empty() ? "" : "; ") + what + " " + value;
    std::printf("      %s\n", wrap(figures, 6).c_str());
    std::printf("      %s\n", wrap("source: " + line.from.source + " [" + line.from.mark + "]", 6).c_str());
  }
  std::printf("\n");
}

void print_json(const std::vector<Table>& tables) {
  nlohmann::ordered_json json;
  for (const Table& table : tables)
    for (const Line& line : table.lines) {
      nlohmann::ordered_json row{{"name", line.name}};
      for (const auto& [what, value] : line.figures) row[what] = value;
      row["source"] = line.from.source;
      row["mark"] = line.from.mark;
      json[table.name].push_back(row);
    }
  std::printf("%s\n", results::json_text(json).c_str());
}

int list_catalog(Context& context, const std::string& wanted, bool metric) {
  std::vector<Table> tables = all_tables(catalog::read_catalog(catalog_folder()), metric);
  if (!wanted.empty()) {
    std::vector<std::string> names;
    for (const Table& table : tables) names.push_back(table.name);
    std::erase_if(tables, [&](const Table& table) { return table.name != wanted; });
    if (tables.empty()) {
      const std::string near = nearest(wanted, names);
      std::string all;
      for (const std::string& name : names) all += (all.empty() ? "" : ", ") + name;
      throw InputError({"", 0, "catalog"}, "'" + wanted + "'", "one of " + all,
                       near.empty() ? "choose one of them" : "did you mean '" + near + "'?");
    }
  }
  if (context.json) {
    print_json(tables);
    return done;
  }
  for (const Table& table : tables) print_table(context, table);
  std::printf("%s\n",
              wrap("Marks: V seen in the source, M standard figure from memory, C computed, default chosen "
                   "within the range.")
                  .c_str());
  return done;
}
} // namespace

void add_catalog(CLI::App& app, Context& context) {
  CLI::App* command =
      app.add_subcommand("catalog", "List covers, soils, pipes, stone, fabric, caps, plants with sources");
  const auto wanted = std::make_shared<std::string>();
  const auto metric = std::make_shared<bool>(false);
  command->add_option("TABLE", *wanted,
                      "covers, soils, pipes, stone, fabric, caps, plants, climate or limits");
  command->add_flag("--metric", *metric, "figures in millimetres and metres (names stay as they are)");
  command->add_flag("--json", context.json, "as JSON on standard output");
  command->footer("Example:\n  lowspot catalog pipes");
  command->callback([&context, wanted, metric] {
    context.chosen = [&context, wanted, metric] { return list_catalog(context, *wanted, *metric); };
  });
}

} // namespace lowspot::cli
