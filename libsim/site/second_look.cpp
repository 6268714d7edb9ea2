#include <lowspot/site/second_look.hpp>

#include <algorithm>

#include <lowspot/base/text.hpp>
#include <lowspot/site/blurred.hpp>
#include <lowspot/site/connect_design.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/places.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
bool some_water_may_leave(const Edges& edges) {
  for (const auto& side : {edges.north, edges.south, edges.east, edges.west})
    if (side.value_or(edges.otherwise) == EdgeKind::open) return true;
  return std::any_of(edges.parts.begin(), edges.parts.end(),
                     [](const EdgePart& part) { return part.kind == EdgeKind::open; });
}

// What comes underground cannot stand higher than the soil it comes through.
void look_at_seeps(const TableReader& root, const Site& site) {
  double deepest = 0;
  for (const Soil& soil : site.soils) deepest = std::max(deepest, soil.depth.likely);
  const auto tables = root.table_or_empty("edges").tables("seep");
  for (std::size_t k = 0; k < site.edges.seeps.size(); ++k)
    if (site.edges.seeps[k].saturated > deepest * (1 + 1e-9))
      tables[k].warn("saturated",
                     written(site.edges.seeps[k].saturated, Dimension::length, site) +
                         " is more than the topsoil is deep, " + written(deepest, Dimension::length, site) +
                         ", so no more than that comes in; deepen the topsoil, or give what runs over "
                         "the ground as an `inflow`");
}

void look_at_edges(const TableReader& root, const Site& site) {
  look_at_seeps(root, site);
  if (some_water_may_leave(site.edges)) return;
  root.table_or_empty("edges").warn(
      "", "all sides are walls, so what does not soak away stands until it dries up; leave the side open to "
          "which the ground falls");
}

bool lies_within(const Polygon& inner, const Polygon& outer) {
  const Box a = bounds(inner), b = bounds(outer);
  if (a.low.x < b.low.x - on_the_limit || a.low.y < b.low.y - on_the_limit ||
      a.high.x > b.high.x + on_the_limit || a.high.y > b.high.y + on_the_limit)
    return false;
  Polyline ring = inner;
  ring.push_back(ring.front());
  return stays_inside(outer, ring);
}

void look_at_areas(const TableReader& root, const Site& site) {
  const auto tables = root.tables("area");
  const std::vector<Area>& areas = site.areas;
  for (std::size_t k = 0; k < areas.size(); ++k) {
    const std::string key = tables[k].has("rectangle") ? "rectangle" : "outline";
    const std::string ending = ", so nothing of it is seen";
    const auto later =
        std::find_if(areas.begin() + static_cast<std::ptrdiff_t>(k) + 1, areas.end(),
                     [&](const Area& one) { return lies_within(areas[k].outline, one.outline); });
    const auto house = std::find_if(site.buildings.begin(), site.buildings.end(), [&](const Building& one) {
      return lies_within(areas[k].outline, one.outline);
    });
    if (later != areas.end())
      tables[k].warn(key, "lies wholly under \"" + later->name + "\"" + ending +
                              "; areas further down in the file lie over those above them: move it down");
    else if (house != site.buildings.end())
      tables[k].warn(key, "lies wholly under the building \"" + house->name + "\"" + ending);
  }
  const std::string blurred = blurred_words(site, site.cell);
  if (!blurred.empty()) root.table_or_empty("site").warn("cell", blurred);
}

// A roof catches the rain over the whole of its walls.
void look_at_buildings(const TableReader& root, const Site& site) {
  constexpr double drawn_askew = 0.02; // of the smaller: walls that two houses share
  const auto tables = root.tables("building");
  for (std::size_t k = 1; k < site.buildings.size(); ++k)
    for (std::size_t other = 0; other < k; ++other) {
      const Polygon &one = site.buildings[k].outline, &two = site.buildings[other].outline;
      const double shared = shared_area(one, two);
      if (shared <= drawn_askew * std::min(area(one), area(two))) continue;
      tables[k].warn(tables[k].has("rectangle") ? "rectangle" : "outline",
                     "lies over \"" + site.buildings[other].name + "\" on " +
                         written(shared, Dimension::area, site) +
                         ", where the rain is counted on both roofs; draw them side by side, or as one");
    }
}

bool has_works(const Design& design) {
  return !(design.runs.empty() && design.fittings.empty() && design.outlets.empty() &&
           design.inlets.empty() && design.channels.empty() && design.regrades.empty() &&
           design.amends.empty() && design.basins.empty() && design.downspouts.empty());
}

// Through slots, a grate, or from a roof.
bool takes_water_in(const Design& design, const Site& site) {
  if (!design.inlets.empty() || !design.channels.empty()) return true;
  for (const Run& run : design.runs)
    if (run.pipe.slot_area > 0) return true;
  for (const DownspoutChange& change : design.downspouts)
    if (change.to != "ground") return true;
  const auto takers = takers_of_roof_water(design);
  for (const Building& building : site.buildings)
    for (const Downspout& spout : building.downspouts)
      if (is_one_of(spout.to, takers)) return true;
  return false;
}

void look_at_designs(const TableReader& root, const Site& site) {
  const auto tables = root.tables("design");
  for (std::size_t k = 0; k < site.designs.size(); ++k) {
    const Design& design = site.designs[k];
    if (!has_works(design))
      tables[k].warn("", "\"" + design.name + "\" has no works, so it will come out as the yard as it is");
    else if (!design.runs.empty() && !takes_water_in(design, site))
      tables[k].warn("",
                     "\"" + design.name +
                         "\" has pipes, all of them solid, and no inlet, channel or downspout that leads "
                         "into them, so no water gets in; write \", slotted\" where a pipe lies in stone");
  }
}
} // namespace

void second_look(const TableReader& root, const Site& site) {
  look_at_edges(root, site);
  look_at_areas(root, site);
  look_at_buildings(root, site);
  look_at_designs(root, site);
}

void second_look_at_size(const TableReader& table, const Site& site) {
  constexpr double acre = 4046.86, square_foot = 0.3048 * 0.3048; // m2
  const bool feet = site.units == "ft", said = table.has("units");
  const Box box = bounds(site.outline);
  const double wide = box.high.x - box.low.x, deep = box.high.y - box.low.y, size = area(site.outline);
  const std::string key = table.has("rectangle") ? "rectangle" : "outline";
  const std::string extent =
      rounded(wide / site.unit) + " by " + rounded(deep / site.unit) + " " + site.units;
  if (std::max(wide, deep) < 0.5 * site.unit)
    table.fail(
        key, "a yard of " + extent, "corners in " + site.units,
        "Measure from a corner of the yard. Degrees of longitude and latitude must be turned into feet "
        "or metres of a map grid first.");
  // A yard in metres that would be a usual one in feet, and the other way round.
  if (!feet && size > 3000)
    table.warn(key, extent + " is " + rounded(size / acre, 2) +
                        " acres, much for a yard; if it was measured in feet, write units = \"ft\"");
  if (feet && size > 5 * acre)
    table.warn(key, extent + " is " + rounded(size / acre, 2) +
                        " acres, much for a yard; coordinates are in feet, not inches");
  if (feet && size < (said ? 250 : 1500) * square_foot)
    table.warn(key, extent + (said ? "" : " (feet, since `units` is not given)") +
                        " is the size of a room; if it was measured in metres, write units = \"m\"");
}

} // namespace lowspot::site
