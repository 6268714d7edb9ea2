#include <lowspot/site/run_reader.hpp>

#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/site/area_at.hpp>
#include <lowspot/site/materials.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/places.hpp>
#include <lowspot/site/rule_length.hpp>
#include <lowspot/site/trench_rules.hpp>
#include <lowspot/site/under_buildings.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
constexpr double foot = 0.3048;

// Life safety: by the town's limits, else the US federal rule for trenches.
void warn_of_depth(const TableReader& trench, double depth) {
  const Site& site = trench.context().site;
  const std::string value = written(depth, Dimension::length, site);
  const TrenchRule walls = protected_from(site), way_out = way_out_from(site);
  if (depth >= walls.depth - 1e-9)
    trench.warn("depth", value + " deep: a trench of " + walls.written +
                             " or more needs shoring or sloped sides; people have died in shallower ones");
  else if (depth >= way_out.depth - 1e-9)
    trench.warn("depth", value + " deep: from " + way_out.written + " a ladder within " +
                             rule_length(25, site.units == "ft") +
                             " is needed, and shoring wherever the sides may cave in");
}

void read_trench(const TableReader& run_table, Run& run) {
  const Site& site = run_table.context().site;
  const TableReader trench = run_table.table_or_empty("trench");
  if (run.has_trench) {
    run.trench_width = trench.quantity_or("width", Dimension::length, usual_size(12, site), Range::positive);
    run.bedding = trench.quantity_or("bedding", Dimension::length, usual_size(2, site));
  } else {
    run.trench_width = trench.maybe_quantity("width", Dimension::length, Range::positive).value_or(0);
    run.bedding = trench.maybe_quantity("bedding", Dimension::length).value_or(0);
  }
  if (const auto depth = trench.maybe_quantity("depth", Dimension::length, Range::positive))
    run.trench_depth = *depth;
  trench.done();
  constexpr double widest_usual = 4 * foot;
  if (run.trench_width > widest_usual)
    trench.warn("width", written(run.trench_width, Dimension::length, site) +
                             " is a pit rather than a trench, and takes stone by the truck; check the unit");
  if (run.trench_width > 0 && run.trench_width < run.pipe.outside_diameter)
    trench.fail("width", written(run.trench_width, Dimension::length, site),
                "at least the outside of the pipe, " +
                    written(run.pipe.outside_diameter, Dimension::length, site),
                "Widen the trench; stone is wanted on both sides of the pipe.");
  const double least = run.pipe.outside_diameter + run.bedding + (run.has_trench ? run.cap.depth : 0);
  if (run.trench_depth < least)
    trench.fail("depth", written(run.trench_depth, Dimension::length, site),
                "room for bedding, pipe and cap, " + written(least, Dimension::length, site),
                "Dig deeper, or use a smaller pipe.");
  warn_of_depth(trench, run.trench_depth);
}

void warn_of_fall(const TableReader& table, const std::string& key, double fall) {
  // As of what an outlet's invert makes of a run: 10 % for 1 %, or a unit.
  if (fall >= 0.1 - 1e-9)
    table.warn(key, "falls " + rounded(100 * fall, 3) + " %, " +
                        (table.context().site.units == "ft" ? rounded(12 * fall, 2) + " in per foot"
                                                            : rounded(1000 * fall, 3) + " mm per metre") +
                        ": drains fall by 1 or 2 %; check the figure and its decimal point");
  if (fall < 0.005 - 1e-9)
    table.warn(key, "falls " + rounded(100 * fall, 2) +
                        " %: under 0.5 % a crew cannot hold the grade, so bellies will hold water and silt");
}

void read_inverts(const TableReader& table, Run& run) {
  run.inverts = table.elevations("inverts");
  const std::string units = table.context().site.units;
  if (run.inverts.size() != 2 && run.inverts.size() != run.path.size())
    table.fail("inverts", "a list of " + std::to_string(run.inverts.size()),
               "two elevations, head and foot, or one a point of the path (" +
                   std::to_string(run.path.size()) + ")",
               "List them in flow order.");
  for (std::size_t k = 1; k < run.inverts.size(); ++k)
    if (run.inverts[k] > run.inverts[k - 1] + 1e-9)
      table.fail("inverts",
                 "a pipe that runs uphill: invert " + std::to_string(k + 1) + " is " +
                     rounded((run.inverts[k] - run.inverts[k - 1]) / table.context().site.unit) + " " +
                     units + " above the one before",
                 "inverts that fall from head to foot",
                 "List path and inverts in flow order, or dig the foot deeper.");
  warn_of_fall(table, "inverts", (run.inverts.front() - run.inverts.back()) / length(run.path));
  if (table.has("fall")) table.warn("fall", "is not used, since inverts are given");
  if (!std::isnan(run.trench_depth)) table.warn("trench.depth", "is not used, since inverts are given");
}

void read_fall(const TableReader& table, Run& run) {
  const auto fall = table.maybe_quantity("fall", Dimension::slope, Range::any);
  if (!fall) return; // settled when it is known where the run leads
  run.fall = *fall;
  if (run.fall < 0)
    table.fail("fall", "a pipe that runs uphill, " + rounded(100 * run.fall) + " %",
               "a fall of zero or more, head to foot",
               "List the path in flow order, from head to foot, and write the fall without a minus sign.");
  if (run.fall > 1)
    table.fail("fall", rounded(100 * run.fall) + " %", "a fall of at most 100 %", "Check the unit.");
  warn_of_fall(table, "fall", run.fall);
}
} // namespace

double topsoil_conductivity_at(const Site& site, const Point& place) {
  return site.soils.at(static_cast<std::size_t>(area_at(site, place).soil)).conductivity.likely;
}

Run read_run(const TableReader& table, std::size_t number) {
  const Site& site = table.context().site;
  Run run;
  run.line = table.line();
  run.name = table.maybe_text("name").value_or("run " + std::to_string(number));
  run.path = table.line_of_points("path");
  require_inside(table, "path", run.path);
  warn_under_building(table, "path", run.path);
  run.pipe = read_pipe(table, table.has("stone") || table.has("trench") || table.has("cap"));
  run.has_trench = run.pipe.slot_area > 0 || table.has("stone");
  if (run.has_trench) {
    run.stone = read_stone(table);
    run.fabric = read_fabric(table);
    run.cap = read_cap(table, topsoil_conductivity_at(site, point_along(run.path, length(run.path) / 2)),
                       run.stone.conductivity);
  } else
    for (const char* key : {"fabric", "cap"})
      if (table.has(key)) table.warn(key, "is not used: a solid pipe without stone lies in plain backfill");
  read_trench(table, run);
  if (table.has("inverts"))
    read_inverts(table, run);
  else
    read_fall(table, run);
  run.from = table.maybe_text("from").value_or("");
  run.to = table.maybe_text("to").value_or("");
  table.done();
  return run;
}

} // namespace lowspot::site
