// [[area]]: ground cover, and the lawn where no area lies.
#include <lowspot/base/text.hpp>
#include <lowspot/site/cover.hpp>
#include <lowspot/site/joints.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/places.hpp>
#include <lowspot/site/readers.hpp>

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

// Stone under paving stores water that this version does not follow.
void read_base(const TableReader& table, const Area& area) {
  if (!table.has("base")) return;
  if (!area.impervious)
    table.fail("base", "a stone base under ground that takes water in", "no `base` here",
               "This version cannot fill and empty a base: remove the line.");
  table.warn("base", area.joint_share > 0
                         ? "is not used: what comes through the joints goes straight into the soil below"
                         : "is not used: no water gets through an impervious surface into its base");
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
