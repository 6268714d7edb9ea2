// [[area]]: ground cover, and the lawn where no area lies.
#include <lowspot/base/text.hpp>
#include <lowspot/site/cover.hpp>
#include <lowspot/site/joints.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/places.hpp>
#include <lowspot/site/readers.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
void read_surface(const TableReader& table, Area& area) {
  if (!table.has("surface")) return;
  area.surface = table.shots("surface", 3);
  if (in_one_line(area.surface))
    table.fail("surface", "shots in one line", "three or more shots that span a plane",
               "Add a shot off the line: a corner on the other side.");
}

void read_area_soil(const TableReader& table, Area& area) {
  const auto names = names_of(table.context().site.soils);
  const auto name = table.maybe_text("soil");
  if (!name) return;
  refuse_unknown(table, "soil", *name, names, "the name of a [[soil]]");
  while (names[static_cast<std::size_t>(area.soil)] != *name) ++area.soil;
}

// How far a slab and its base cut into the topsoil. What stone of the base stores by itself is not followed.
void read_base(const TableReader& table, Area& area) {
  const bool slab = area.impervious && !area.surface.empty();
  if (slab && table.has("thickness")) {
    area.slab_thickness = table.quantity("thickness", Dimension::length);
    constexpr double thickest_usual = 0.3048; // m, 12 in: no paving of a yard is thicker
    if (area.slab_thickness > thickest_usual)
      table.warn("thickness", written(area.slab_thickness, Dimension::length, table.context().site) +
                                  " is thicker than any paving, so the topsoil under it is counted as gone; "
                                  "check the unit");
  }
  if (!table.has("base")) {
    if (slab) table.assume("base", written(area.base_depth, Dimension::length, table.context().site));
    return;
  }
  if (!area.impervious)
    table.fail("base", "a stone base under ground that takes water in", "no `base` here",
               "This version cannot fill and empty a base: remove the line.");
  const TableReader base = *table.table("base");
  area.base_depth = base.quantity_or("depth", Dimension::length, "4 in", Range::positive);
  base.maybe_text("stone");
  base.done();
  if (!slab) table.warn("base", "is not used: only a slab with a `surface` is cut into the ground");
}

Area read_area(const TableReader& table, std::size_t number) {
  Area area;
  area.line = table.line();
  area.name = table.maybe_text("name").value_or("area " + std::to_string(number));
  area.outline = table.outline();
  read_cover(table, area);
  read_surface(table, area);
  read_area_soil(table, area);
  read_joints(table, area);
  if (const auto* kind = table.has("plants") ? table.find("plants")->as_string() : nullptr)
    table.fail("plants", "\"" + kind->get() + "\"", "a table",
               "Write plants = { kind = \"" + kind->get() + "\" }.");
  if (const auto plants = table.table("plants")) area.plants = read_plants(*plants, area);
  read_base(table, area);
  table.done();
  require_shared(table, area.outline, "only the part inside is computed");
  if (area.impervious && area.plants)
    table.warn("plants",
               "grow on ground that takes no water in, so they will dry out; set impervious = false");
  return area;
}
} // namespace

void read_areas(const TableReader& root, Context& context) {
  Site& site = context.site;
  for (const TableReader& table : root.tables("area")) {
    Area area = read_area(table, site.areas.size() + 1);
    refuse_taken(table, area.name, site.areas, "area");
    site.areas.push_back(std::move(area));
  }
  const std::string usual = "lawn";
  set_cover(row_named(root, "area", context.catalog.covers, usual, "cover"), site.lawn);
  site.lawn.name = usual;
  site.lawn.outline = site.outline;
  double covered = 0;
  for (const Area& one : site.areas) covered += shared_area(one.outline, site.outline);
  if (covered < (1 - 1e-9) * area(site.outline)) root.assume("area", usual + " wherever no [[area]] lies");
}

} // namespace lowspot::site
