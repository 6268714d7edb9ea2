#include <lowspot/site/read_works.hpp>

#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/site/places.hpp>
#include <lowspot/site/rule_length.hpp>
#include <lowspot/site/under_buildings.hpp>
#include <lowspot/site/usual_range.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {

constexpr double steepest_mown = 1.0 / 3; // rise over run that a mower still takes

double side_slope(const TableReader& table) {
  const auto given = table.maybe_quantity("side_slope", Dimension::slope, Range::positive);
  if (!given) {
    table.assume("side_slope", "1:3");
    return steepest_mown;
  }
  if (*given > 1)
    table.warn("side_slope", "is steeper than 1:1: bare soil slides at that slope when it is wet");
  else if (*given > steepest_mown + 1e-9)
    table.warn("side_slope", "is steeper than 1:3, too steep to mow");
  return *given;
}

void require_places(const TableReader& table, const std::string& key, const std::vector<Point3>& points) {
  Polyline path;
  for (const Point3& point : points) path.push_back({point.x, point.y});
  require_inside(table, key, path);
}

// Topsoil mixed with compost or sand: what it gains.
void read_gain(const TableReader& table, double& factor, double& porosity, double& depth) {
  if (const auto given = table.maybe_number("conductivity_factor", 0.01, 1000)) factor = *given;
  constexpr double most_usual = 100; // times: clay turned into sand
  if (factor > most_usual)
    table.warn("conductivity_factor", rounded(factor, 4) +
                                          " times as fast as it was is more than digging and compost make "
                                          "of ground, so it takes in whatever comes; check the figure");
  if (const auto given = table.maybe_number("porosity", 0, 0.4)) porosity = *given;
  depth = table.maybe_quantity("depth_added", Dimension::length).value_or(0);
  warn_outside(table, "depth_added", depth, usual::depth_loosened);
}

} // namespace

Regrade read_regrade(const TableReader& table, std::size_t number) {
  Regrade regrade;
  regrade.line = table.line();
  regrade.name = table.maybe_text("name").value_or("regrading " + std::to_string(number));
  regrade.kind = table.word("kind", {"plane", "swale", "berm"});
  if (regrade.kind == "plane") {
    regrade.outline = table.outline();
    require_shared(table, regrade.outline, "only the part inside is regraded");
    regrade.surface = table.shots("surface", 3);
    if (in_one_line(regrade.surface))
      table.fail("surface", "levels in one line", "three or more levels that span a plane",
                 "Give one that lies to the side of the others.");
    table.done();
    return regrade;
  }
  regrade.path = table.shots("path", 2);
  require_places(table, "path", regrade.path);
  regrade.width = table.quantity_or("width", Dimension::length,
                                    usual_size(regrade.kind == "swale" ? 24 : 12, table.context().site));
  warn_outside(table, "width", regrade.width, usual::swale_width);
  regrade.side_slope = side_slope(table);
  table.done();
  if (regrade.kind == "swale")
    for (std::size_t k = 1; k < regrade.path.size(); ++k)
      if (regrade.path[k].z > regrade.path[k - 1].z + 1e-9) {
        table.warn("path", "rises along the bed of the swale: water will stand before the rise");
        break;
      }
  return regrade;
}

Amend read_amend(const TableReader& table, std::size_t number) {
  Amend amend;
  amend.line = table.line();
  amend.name = table.maybe_text("name").value_or("amended soil " + std::to_string(number));
  amend.outline = table.outline();
  require_shared(table, amend.outline, "only the part inside is amended");
  read_gain(table, amend.conductivity_factor, amend.porosity_added, amend.depth_added);
  table.done();
  if (amend.conductivity_factor == 1 && amend.porosity_added == 0 && amend.depth_added == 0)
    table.fail("conductivity_factor", "soil that is left as it is",
               "`conductivity_factor`, `porosity` or `depth_added`",
               "Say what changes, such as conductivity_factor = 3.");
  return amend;
}

Basin read_basin(const TableReader& table, std::size_t number) {
  Basin basin;
  basin.line = table.line();
  basin.name = table.maybe_text("name").value_or("basin " + std::to_string(number));
  basin.outline = table.outline();
  require_shared(table, basin.outline, "only the part inside is dug");
  refuse_under_building(table, table.has("rectangle") ? "rectangle" : "outline", basin.outline);
  basin.depth =
      table.quantity_or("depth", Dimension::length, usual_size(6, table.context().site), Range::positive);
  if (const auto overflow = table.maybe_elevation("overflow"))
    basin.overflow = *overflow;
  else
    table.assume("overflow", "at the lowest ground on its rim");
  basin.side_slope = side_slope(table);
  read_gain(table, basin.conductivity_factor, basin.porosity_added, basin.depth_added);
  table.done();
  if (basin.depth > 0.3048 + 1e-9)
    table.warn("depth",
               written(basin.depth, Dimension::length, table.context().site) +
                   ": deeper than a foot of standing water drowns most plants and endangers children");
  return basin;
}

} // namespace lowspot::site
