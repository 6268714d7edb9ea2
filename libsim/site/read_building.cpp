// [[building]] with its downspouts, and [[wall]].
#include <lowspot/base/text.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/places.hpp>
#include <lowspot/site/readers.hpp>
#include <lowspot/site/usual_range.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
constexpr double smallest_roof = 1.86; // m2, 20 ft2: what one downspout leads down at least

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

// What of a building's roof is left to the downspouts that do not say theirs.
struct UnstatedRoof {
  double each = 0;           // m2
  bool nothing_left = false; // the others have it all: an equal share of the whole
};

UnstatedRoof unstated_roof(const std::vector<TableReader>& spouts, const Building& building) {
  const double whole = area(building.outline);
  double stated = 0;
  std::size_t unstated = 0;
  for (const TableReader& spout : spouts) {
    const auto roof = spout.maybe_quantity("roof", Dimension::area);
    stated += roof.value_or(0);
    unstated += roof ? 0 : 1;
  }
  if (unstated == 0) return {};
  const double left = (whole - stated) / static_cast<double>(unstated);
  if (left < smallest_roof) return {whole / static_cast<double>(spouts.size()), true};
  return {left, false};
}

// Eaves and a slope make a roof larger than its house, but not by half. One at the limit of the yard may be
// drawn in part.
void warn_of_all_roofs(const TableReader& table, const Building& building) {
  const Polygon& yard = table.context().site.outline;
  Polyline limit = yard;
  limit.push_back(yard.front());
  for (const Point& corner : building.outline)
    if (!contains(yard, corner) || distance_to(limit, corner) <= on_the_limit) return;
  constexpr double far_beyond = 1.5;
  double sum = 0;
  for (const Downspout& spout : building.downspouts) sum += spout.roof_area;
  const double whole = area(building.outline);
  if (sum <= far_beyond * whole) return;
  const Site& site = table.context().site;
  table.warn("downspouts", "lead down " + written(sum, Dimension::area, site) +
                               " of roof, and the building covers " + written(whole, Dimension::area, site) +
                               "; check the roofs, or draw all of the building");
}

Downspout read_downspout(const TableReader& table, const Building& building, std::size_t number,
                         const UnstatedRoof& unstated) {
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
    spout.roof_area = unstated.each;
    table.assume("roof",
                 written(spout.roof_area, Dimension::area, site) +
                     (unstated.nothing_left ? " (an equal share of the building)"
                                            : " (an equal share of what of the building is not stated)"));
    if (unstated.nothing_left)
      table.warn("roof", "is not stated, though the other downspouts have all of the building's roof; " +
                             written(spout.roof_area, Dimension::area, site) +
                             " are added to it; state the roof of each");
    const double outside = 1 - shared_area(building.outline, site.outline) / area(building.outline);
    constexpr double much = 0.1;
    if (outside > much)
      table.warn("roof", "is not stated, and " + rounded(100 * outside, 2) +
                             " % of the building lies outside the yard; " +
                             written(spout.roof_area, Dimension::area, site) +
                             " are taken, as if all of its roof were led into the yard");
  }
  if (spout.roof_area < smallest_roof)
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
  require_shared(table, building.outline,
                 table.has("downspouts")
                     ? "only the part inside blocks flow"
                     : "only the part inside blocks flow, and of its roof the share sheds "
                       "into the yard that its walls have inside");
  if (const auto depth = table.maybe_quantity("footing_depth", Dimension::length))
    building.footing_depth = *depth;
  building.floor = table.maybe_elevation("floor").value_or(not_given);
  const auto spouts = table.tables("downspouts");
  const UnstatedRoof unstated = unstated_roof(spouts, building);
  for (const TableReader& entry : spouts) {
    Downspout spout = read_downspout(entry, building, building.downspouts.size() + 1, unstated);
    refuse_taken(entry, spout.name, building.downspouts, "downspout");
    for (const Building& other : site.buildings)
      refuse_taken(entry, spout.name, other.downspouts, "downspout");
    building.downspouts.push_back(std::move(spout));
  }
  if (!building.downspouts.empty()) warn_of_all_roofs(table, building);
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
