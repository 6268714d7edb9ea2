#include <lowspot/site/soil_figures.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/read_hole_test.hpp>
#include <lowspot/site/usual_range.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
using catalog::SoilTexture;
constexpr double least_drainable = 0.005; // what perched water is computed with at least

Band band_of(const catalog::Figure& figure) {
  return {figure.low, figure.value, figure.high};
}

// The row that fills in what is not given, or null when everything is.
const SoilTexture* texture_for(const TableReader& t, Soil& soil) {
  const auto& rows = t.context().catalog.soils;
  if (t.has("texture")) {
    const SoilTexture& row = row_named(t, "texture", rows, t.text("texture"), "soil texture");
    soil.texture = row.name;
    return &row;
  }
  const bool moisture =
      t.has("porosity") && t.has("wilting_point") && (t.has("field_capacity") || t.has("drainable_porosity"));
  const bool flow = t.has("conductivity") && t.has("wetting_front_suction") && t.has("pore_size_index");
  if (moisture && flow) {
    soil.texture = "own figures";
    return nullptr;
  }
  const std::string usual = "silt loam";
  const SoilTexture& row = row_named(t, "texture", rows, usual, "soil texture");
  soil.texture = row.name;
  t.assume("texture", usual);
  return &row;
}

double figure_or(const TableReader& t, const std::string& key, double least, double most, double otherwise) {
  if (const auto value = t.maybe_number(key, least, most)) return *value;
  t.assume(key, rounded(otherwise));
  return otherwise;
}

// Field capacity and drainable porosity: one gives the other where only one is known.
void read_drainage(const TableReader& t, const SoilTexture* row, Soil& soil) {
  const auto capacity = t.maybe_number("field_capacity", 0, soil.porosity);
  const auto drainable = t.maybe_number_band("drainable_porosity", least_drainable, soil.porosity);
  // With a porosity of its own, a soil keeps the texture's share of pores that hold water.
  const double from_row = row ? row->field_capacity * soil.porosity / row->porosity.value : 0;
  if (drainable) {
    soil.drainable_porosity = *drainable;
    // Beside a shallow table less drains than to field capacity: of a texture that stays its own. The highest
    // of a band, so that no soil of the band has more pores to drain than there are.
    const double most_held = soil.porosity - drainable->high;
    const bool of_texture = row && from_row <= most_held;
    if (!capacity)
      t.assume("field_capacity",
               of_texture ? rounded(from_row) : rounded(most_held) + " (porosity less drainable porosity)");
    soil.field_capacity = capacity.value_or(of_texture ? from_row : most_held);
    if (drainable->high > soil.porosity - soil.field_capacity + 1e-9)
      t.fail("drainable_porosity", rounded(drainable->high),
             "at most porosity less field capacity, " + rounded(soil.porosity - soil.field_capacity),
             "What drains to field capacity cannot be more than what lies between it and saturation.");
    return;
  }
  if (!capacity) t.assume("field_capacity", rounded(from_row));
  soil.field_capacity = capacity.value_or(from_row);
  const double most = soil.porosity - soil.field_capacity;
  Band usual = row ? band_of(row->drainable_porosity) : Band{most, most, most};
  if (most < least_drainable)
    t.fail("field_capacity", rounded(soil.field_capacity),
           "less than the porosity, " + rounded(soil.porosity) + ", by " + rounded(least_drainable) +
               " or more",
           "Lower the field capacity, or give drainable_porosity.");
  soil.drainable_porosity = {std::min(usual.low, most), std::min(usual.likely, most),
                             std::min(usual.high, most)};
  t.assume("drainable_porosity",
           rounded(soil.drainable_porosity.likely) +
               (soil.drainable_porosity.is_band() ? " (" + rounded(soil.drainable_porosity.low) + " to " +
                                                        rounded(soil.drainable_porosity.high) + ")"
                                                  : ""));
}

void read_moisture(const TableReader& t, const SoilTexture* row, Soil& soil) {
  soil.porosity = figure_or(t, "porosity", 0.01, 0.95, row ? row->porosity.value : 0);
  read_drainage(t, row, soil);
  const double wilting = row ? std::min(row->wilting_point, 0.5 * soil.field_capacity) : 0;
  soil.wilting_point = figure_or(t, "wilting_point", 0, 0.9, wilting);
  const double residual = row ? std::min(row->residual, 0.5 * soil.wilting_point) : 0;
  soil.residual = figure_or(t, "residual", 0, 0.9, residual);
  if (soil.wilting_point > soil.field_capacity)
    t.fail("wilting_point", rounded(soil.wilting_point),
           "at most the field capacity, " + rounded(soil.field_capacity),
           "Moisture contents rise in this order: residual, wilting_point, field_capacity, porosity.");
  if (soil.residual > soil.wilting_point)
    t.fail("residual", rounded(soil.residual), "at most the wilting point, " + rounded(soil.wilting_point),
           "Moisture contents rise in this order: residual, wilting_point, field_capacity, porosity.");
}

// Figures that are not those of the texture named beside them: one of the two is of other ground, or in
// another unit.
void warn_of_other_texture(const TableReader& t, const SoilTexture& row, const Soil& soil, bool measured) {
  const Site& site = t.context().site;
  const auto warn = [&](const char* key, const std::string& value, const std::string& usual,
                        const std::string& consequence) {
    t.warn(key, value + " is far from what " + row.name + " has, " + usual + ", so " + consequence +
                    "; check the unit and the texture");
  };
  constexpr double far_off =
      10; // times beyond the range of the texture, which spans loosened and rolled ground
  const Band conductivity = band_of(row.conductivity);
  if (!measured && soil.conductivity.likely > far_off * conductivity.high)
    t.warn("conductivity", written(soil.conductivity.likely, Dimension::speed, site) + " is more than " +
                               rounded(far_off) + " times what the fastest " + row.name + " takes in, " +
                               written(conductivity.high, Dimension::speed, site) +
                               ", so hardly any rain will run off; check the unit and the texture");
  if (!t.has("texture")) return;
  if (!measured && soil.conductivity.likely < conductivity.low / far_off)
    t.warn("conductivity", written(soil.conductivity.likely, Dimension::speed, site) +
                               " is less than a tenth of what the tightest " + row.name + " takes in, " +
                               written(conductivity.low, Dimension::speed, site) +
                               ", so nearly all rain will run off or stand; check the unit and the texture");
  const Band porosity = band_of(row.porosity), suction = band_of(row.wetting_front_suction);
  constexpr double far_share = 0.1; // of the ground, beyond the range of the texture
  if (soil.porosity < porosity.low - far_share || soil.porosity > porosity.high + far_share)
    warn("porosity", rounded(soil.porosity), rounded(porosity.low) + " to " + rounded(porosity.high),
         std::string("the ground has ") + (soil.porosity < porosity.low ? "less" : "more") +
             " room for rain than it should");
  constexpr double twice = 2; // the range alone spans one to thirty
  if (soil.wetting_front_suction < suction.low / twice || soil.wetting_front_suction > suction.high * twice)
    warn("wetting_front_suction", written(soil.wetting_front_suction, Dimension::length, site),
         written(suction, Dimension::length, site),
         soil.wetting_front_suction < suction.low ? "dry ground drinks too little of a storm"
                                                  : "dry ground drinks too much of a storm");
}
} // namespace

void warn_of_conductivity(const TableReader& table, const std::string& key, const Band& conductivity) {
  constexpr double inch_per_hour = 0.0254 / 3600;
  const std::string value = written(conductivity.likely, Dimension::speed, table.context().site);
  if (conductivity.likely > 50 * inch_per_hour)
    table.warn(key, value + " is faster than any yard soil, so water will hardly stand; check the unit");
  else if (conductivity.high > 50 * inch_per_hour)
    table.warn(key,
               "the upper end of the band, " +
                   written(conductivity.high, Dimension::speed, table.context().site) +
                   ", is faster than any yard soil, so in some of the plausible soils no water stands; check "
                   "the unit");
  if (conductivity.likely < 1e-4 * inch_per_hour)
    table.warn(
        key, value + " is tighter than any soil, so only plants and drains take water away; check the unit");
}

void read_topsoil_depth(const TableReader& t, Soil& soil) {
  if (const auto depth = t.maybe_band("depth", Dimension::length, Range::positive))
    soil.depth = *depth;
  else {
    soil.depth = {0.1016, 0.1524, 0.2032}; // machine-graded lots have 4 to 8 in
    t.assume("depth", written(soil.depth, Dimension::length, t.context().site));
  }
  warn_outside(t, "depth", soil.depth.likely, usual::topsoil_depth);
  constexpr double deepest_usual = 1.2192; // m, 4 ft: below lies what roots and spades do not reach
  if (soil.depth.likely > deepest_usual)
    t.warn(
        "depth",
        written(soil.depth.likely, Dimension::length, t.context().site) +
            " of topsoil is deeper than yards have, so a storm soaks away before it meets the tight layer; "
            "check the unit");
}

void read_topsoil(const TableReader& t, Soil& soil, const std::optional<Band>& measured) {
  const Site& site = t.context().site;
  const SoilTexture* row = texture_for(t, soil);
  if (const auto given = given_or_measured(t, t.maybe_band("conductivity", Dimension::speed), measured))
    soil.conductivity = *given;
  else {
    soil.conductivity = band_of(row->conductivity);
    t.assume("conductivity", written(soil.conductivity, Dimension::speed, site) + " (" + row->name + ")");
  }
  warn_of_conductivity(t, "conductivity", soil.conductivity);
  read_moisture(t, row, soil);
  if (const auto suction = t.maybe_quantity("wetting_front_suction", Dimension::length))
    soil.wetting_front_suction = *suction;
  else {
    soil.wetting_front_suction = row->wetting_front_suction.value;
    t.assume("wetting_front_suction", written(soil.wetting_front_suction, Dimension::length, site));
  }
  if (!row) warn_outside(t, "wetting_front_suction", soil.wetting_front_suction, usual::front_suction);
  soil.pore_size_index = figure_or(t, "pore_size_index", 0.01, 20, row ? row->pore_size_index : 0);
  if (row) warn_of_other_texture(t, *row, soil, measured.has_value());
}

} // namespace lowspot::site
