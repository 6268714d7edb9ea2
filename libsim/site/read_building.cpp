// [[building]] with its downspouts, and [[wall]].
#include <lowspot/base/text.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/places.hpp>
#include <lowspot/site/readers.hpp>
#include <lowspot/site/usual_range.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
// Roof water comes down at the foot of the walls.
void warn_of_place(const TableReader& table, const Point& at, const Building& building) {
  constexpr double farthest_usual = 3.048, overhang = 0.9144; // m: 10 ft, 3 ft
  Polyline walls = building.outline;
  walls.push_back(walls.front());
  const double away = distance_to(walls, at);
  const std::string far = written(away, Dimension::length, table.context().site);
  if (contains(building.outline, at)) {
    if (away > overhang)
      table.warn("at", "is " + far + " inside the walls of \"" + building.name +
                           "\"; its water is let out on the nearest ground outside them");
  } else if (away > farthest_usual)
    table.warn("at", "is " + far + " from the walls of \"" + building.name +
                         "\", so the roof's water comes down there; check the place");
}

Downspout read_downspout(const TableReader& table, const Building& building, std::size_t number,
                         std::size_t of) {
  const Site& site = table.context().site;
  Downspout spout;
  spout.line = table.line();
  spout.name = table.maybe_text("name").value_or(building.name + " downspout " + std::to_string(number));
  spout.at = table.point("at");
  require_inside(table, "at", spout.at);
  if (const auto roof = table.maybe_quantity("roof", Dimension::area)) {
    spout.roof_area = *roof;
    constexpr double largest_usual = 279; // m2, 3000 ft2: a whole house
    if (*roof > largest_usual)
      table.warn("roof",
                 written(*roof, Dimension::area, site) +
                     " is more roof than one downspout can lead down, and all its rain is let out at one "
                     "place; check the figure and its unit");
  } else {
    spout.roof_area = area(building.outline) / static_cast<double>(of);
    table.assume("roof",
                 written(spout.roof_area, Dimension::area, site) + " (an equal share of the building)");
  }
  constexpr double smallest_usual = 1.86; // m2, 20 ft2
  if (spout.roof_area < smallest_usual)
    table.warn("roof", written(spout.roof_area, Dimension::area, site) +
                           " is less roof than any downspout drains; check the figure and its unit");
  warn_of_place(table, spout.at, building);
  spout.to = table.maybe_text("to").value_or("ground");
  if (!table.has("to")) table.assume("to", "ground");
  table.done();
  return spout;
}

Building read_building(const TableReader& table, std::size_t number) {
  const Site& site = table.context().site;
  Building building;
  building.line = table.line();
  building.name = table.maybe_text("name").value_or("building " + std::to_string(number));
  building.outline = table.outline();
  require_shared(table, building.outline, "only the part inside blocks flow");
  if (const auto depth = table.maybe_quantity("footing_depth", Dimension::length))
    building.footing_depth = *depth;
  building.floor = table.maybe_elevation("floor").value_or(not_given);
  const auto spouts = table.tables("downspouts");
  for (const TableReader& entry : spouts) {
    Downspout spout = read_downspout(entry, building, building.downspouts.size() + 1, spouts.size());
    refuse_taken(entry, spout.name, building.downspouts, "downspout");
    for (const Building& other : site.buildings)
      refuse_taken(entry, spout.name, other.downspouts, "downspout");
    building.downspouts.push_back(std::move(spout));
  }
  if (spouts.empty()) table.assume("downspouts", "none: the roof sheds evenly along the foot of the walls");
  table.done();
  return building;
}
} // namespace

void read_buildings(const TableReader& root, Context& context) {
  auto& buildings = context.site.buildings;
  for (const TableReader& table : root.tables("building")) {
    Building building = read_building(table, buildings.size() + 1);
    refuse_taken(table, building.name, buildings, "building");
    buildings.push_back(std::move(building));
  }
}

void read_walls(const TableReader& root, Context& context) {
  auto& walls = context.site.walls;
  for (const TableReader& table : root.tables("wall")) {
    Wall wall;
    wall.name = table.maybe_text("name").value_or("wall " + std::to_string(walls.size() + 1));
    refuse_taken(table, wall.name, walls, "wall");
    wall.line = table.line_of_points("line");
    wall.height = table.quantity_or("height", Dimension::length, "4 in", Range::positive);
    warn_outside(table, "height", wall.height, usual::wall_height);
    table.done();
    if (!stays_inside(context.site.outline, wall.line))
      table.warn("line", "leaves the yard; only the part inside stops water");
    walls.push_back(std::move(wall));
  }
}

} // namespace lowspot::site
