#include <lowspot/site/cover.hpp>

#include <algorithm>

#include <lowspot/base/text.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {

void set_cover(const catalog::Cover& cover, Area& area) {
  area.kind = cover.name;
  area.manning_n = cover.manning_n.value;
  area.manning_n_deep = cover.manning_n_deep > 0 ? cover.manning_n_deep : cover.manning_n.value;
  area.vegetation_height = cover.vegetation_height;
  area.depression_storage = cover.depression_storage.value;
  area.interception = cover.interception.value;
  area.impervious = cover.impervious;
  area.crop_coefficient = cover.crop_coefficient;
  area.soil_evaporation = cover.soil_evaporation;
}

void read_cover(const TableReader& table, Area& area) {
  const bool own = !table.has("kind");
  if (own && !table.has("manning_n"))
    table.required("kind", "a kind of cover, such as \"lawn\", or own figures with manning_n");
  if (own)
    area.kind = "own figures";
  else
    set_cover(row_named(table, "kind", table.context().catalog.covers, table.text("kind"), "cover"), area);

  if (const auto n = table.maybe_number("manning_n", 1e-4, 5)) {
    area.manning_n = *n;
    area.manning_n_deep = *n; // a figure of one's own holds at every depth
    area.vegetation_height = 0;
  }
  if (const auto n = table.maybe_number("manning_n_deep", 1e-4, 5)) area.manning_n_deep = *n;
  if (const auto height = table.maybe_quantity("vegetation_height", Dimension::length))
    area.vegetation_height = *height;
  if (const auto depth = table.maybe_quantity("depression_storage", Dimension::length))
    area.depression_storage = *depth;
  else if (own)
    table.assume("depression_storage", written(0.0, Dimension::length, table.context().site));
  if (const auto depth = table.maybe_quantity("interception", Dimension::length))
    area.interception = *depth;
  else if (own)
    table.assume("interception", written(0.0, Dimension::length, table.context().site));
  if (const auto flag = table.maybe_flag("impervious"))
    area.impervious = *flag;
  else if (own)
    table.assume("impervious", "false");
  if (const auto k = table.maybe_number("crop_coefficient", 0, 2)) area.crop_coefficient = *k;
  if (const auto share = table.maybe_number("soil_evaporation", 0, 1)) area.soil_evaporation = *share;

  constexpr double deepest_usual = 0.05; // m
  if (area.depression_storage > deepest_usual)
    table.warn("depression_storage",
               written(area.depression_storage, Dimension::length, table.context().site) +
                   " is more than small hollows hold, so much rain never runs off");
  constexpr double most_on_leaves = 0.0127; // m, half an inch: twice what a wood holds
  if (area.interception > most_on_leaves)
    table.warn("interception",
               written(area.interception, Dimension::length, table.context().site) +
                   " is more than leaves and mulch hold, so much rain never reaches the ground");
  if (area.manning_n > 1)
    table.warn("manning_n", rounded(area.manning_n) + " is rougher than woodland, so water will creep");
}

Plants read_plants(const TableReader& table, const Area& area) {
  const auto& context = table.context();
  Plants plants;
  const catalog::Plant* row = nullptr;
  if (const auto kind = table.maybe_text("kind")) {
    plants.kind = *kind;
    row = &row_named(table, "kind", context.catalog.plants, *kind, "plant");
    plants.kind = row->name;
  } else
    plants.kind = "own figures";
  if (const auto depth = table.maybe_quantity("root_depth", Dimension::length, Range::positive))
    plants.root_depth = *depth;
  else {
    plants.root_depth = row ? row->root_depth.value : 0.3048;
    table.assume("root_depth", written(plants.root_depth, Dimension::length, context.site));
  }
  constexpr double deepest_usual = 1.8288; // m, 6 ft
  if (plants.root_depth > deepest_usual)
    table.warn("root_depth", written(plants.root_depth, Dimension::length, context.site) +
                                 " is deeper than plants of beds root, so they will never lack water; check "
                                 "the unit");
  const double cover_coefficient = area.crop_coefficient > 0 ? area.crop_coefficient : 0.8;
  if (const auto k = table.maybe_number("crop_coefficient", 0, 2))
    plants.crop_coefficient = *k;
  else {
    plants.crop_coefficient = row ? row->crop_coefficient : cover_coefficient;
    table.assume("crop_coefficient", rounded(plants.crop_coefficient));
  }
  if (const auto p = table.maybe_number("depletion_fraction", 0.01, 0.99))
    plants.depletion_fraction = *p;
  else {
    plants.depletion_fraction = row ? row->depletion_fraction : 0.5;
    table.assume("depletion_fraction", rounded(plants.depletion_fraction));
  }
  if (row) {
    plants.hours_to_damage_low = row->hours_to_damage.low;
    plants.hours_to_damage_high = row->hours_to_damage.high;
  }
  if (table.has("wet_feet"))
    plants.wet_feet = table.word("wet_feet", {"low", "moderate", "high"});
  else {
    plants.wet_feet = row && !row->wet_feet.empty() ? row->wet_feet : "moderate";
    table.assume("wet_feet", plants.wet_feet);
  }
  table.done();
  return plants;
}

} // namespace lowspot::site
