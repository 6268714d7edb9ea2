// [[soil]]: topsoil over a tight layer, and how wet it is at the start.
#include <algorithm>

#include <lowspot/base/text.hpp>
#include <lowspot/site/climate.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/read_hole_test.hpp>
#include <lowspot/site/readers.hpp>
#include <lowspot/site/soil_figures.hpp>
#include <lowspot/site/topsoil_skin.hpp>
#include <lowspot/site/usual_range.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
void read_tight_layer(const TableReader& t, Soil& soil, const std::optional<Band>& measured) {
  const Site& site = t.context().site;
  if (const auto given = given_or_measured(t, t.maybe_band("conductivity", Dimension::speed), measured))
    soil.tight_conductivity = *given;
  else {
    constexpr double inch_per_hour = 0.0254 / 3600;
    soil.tight_conductivity = {0.001 * inch_per_hour, 0.01 * inch_per_hour,
                               0.1 * inch_per_hour}; // compacted subsoil
    t.assume("conductivity", written(soil.tight_conductivity, Dimension::speed, site));
  }
  warn_of_conductivity(t, "conductivity", soil.tight_conductivity);
  if (const auto thickness = t.maybe_quantity("thickness", Dimension::length, Range::positive))
    soil.tight_thickness = *thickness, warn_outside(t, "thickness", *thickness, usual::tight_thickness);
  for (const char* key : {"texture", "porosity", "field_capacity", "wilting_point", "residual",
                          "wetting_front_suction", "pore_size_index", "drainable_porosity"})
    if (t.has(key)) t.warn(key, "is not used: the tight layer only leaks, by its conductivity and thickness");
  t.done();
}

// A figure that may stand at the head of the soil or inside its topsoil.
const TableReader& holder(const TableReader& soil, const TableReader& topsoil, std::string_view name) {
  const std::string key(name);
  const bool outside = soil.has(key), inside = topsoil.has(key);
  if (outside && inside)
    soil.fail(key, "`" + key + "` twice", "it once", "Remove it from topsoil, or from [[soil]].");
  return inside ? topsoil : soil;
}

void read_start(const TableReader& table, const TableReader& topsoil, Soil& soil) {
  const Site& site = table.context().site;
  std::string word = "moist";
  if (table.has("start"))
    word = table.word("start", {"drained", "moist", "wet", "dry"});
  else if (!table.has("initial_moisture") && !topsoil.has("initial_moisture"))
    table.assume("start", word);
  soil.start = start_named(word);

  const TableReader& moist_holder = holder(table, topsoil, "initial_moisture");
  if (const auto moisture = moist_holder.maybe_number("initial_moisture", 0, 1)) {
    soil.initial_moisture = *moisture;
    if (*moisture > soil.porosity || *moisture < soil.residual)
      moist_holder.fail("initial_moisture", rounded(*moisture),
                        "a moisture from the residual, " + rounded(soil.residual) + ", to the porosity, " +
                            rounded(soil.porosity),
                        "Moisture is the share of the ground's volume that is water.");
    if (*moisture < soil.wilting_point)
      moist_holder.warn("initial_moisture",
                        "is drier than the wilting point, so plants stand without water from the start");
  } else {
    soil.initial_moisture = start_content(soil, soil.start);
    const std::string meaning = word == "moist" ? "field capacity and a quarter of the pores above it"
                                : word == "dry" ? "half of what plants can use is gone"
                                                : "field capacity";
    table.assume("initial_moisture", rounded(soil.initial_moisture) + " (" + word + ": " + meaning + ")");
  }

  const TableReader& table_holder = holder(table, topsoil, "perched");
  if (const auto perched = table_holder.maybe_quantity("perched", Dimension::length)) {
    soil.perched_start = *perched;
    if (*perched > soil.depth.likely)
      table_holder.fail("perched", written(*perched, Dimension::length, site),
                        "at most the depth of the topsoil, " +
                            written(soil.depth.likely, Dimension::length, site),
                        "Water perched higher stands on the ground: lower it, or deepen the topsoil.");
  } else if (soil.start == StartMoisture::wet) {
    soil.perched_start = start_perched(soil, soil.start);
    table.assume("perched", written(soil.perched_start, Dimension::length, site));
  }
}

Soil read_soil(const TableReader& table, std::size_t number) {
  Soil soil;
  soil.line = table.line();
  soil.name = table.maybe_text("name").value_or(number == 1 ? "yard" : "soil " + std::to_string(number));
  const TableReader topsoil = table.table_or_empty("topsoil");
  read_topsoil_depth(topsoil, soil);
  const MeasuredConductivity measured = read_hole_test(table, soil);
  read_topsoil(topsoil, soil, measured.topsoil);
  const bool stated = topsoil.has("conductivity");
  const TableReader& packed = table.has("compaction") ? holder(table, topsoil, "compaction") : topsoil;
  read_compaction(packed, topsoil, soil, measured.topsoil && !stated, !stated);
  if (!measured.topsoil || stated) pack_pores(packed, topsoil, soil);
  read_crust(holder(table, topsoil, "crust"), soil);
  read_tight_layer(table.table_or_empty("tight_layer"), soil, measured.tight_layer);
  if (soil.tight_conductivity.likely > soil.conductivity.likely)
    table.warn("tight_layer",
               "lets more through, " +
                   written(soil.tight_conductivity.likely, Dimension::speed, table.context().site) +
                   ", than the topsoil takes in, " +
                   written(soil.conductivity.likely, Dimension::speed, table.context().site) +
                   ", so no water stands on it; check which is which");
  read_start(table, topsoil, soil);
  topsoil.done();
  for (const char* key : {"texture", "depth", "conductivity", "porosity", "field_capacity", "wilting_point",
                          "residual", "wetting_front_suction", "pore_size_index", "drainable_porosity"})
    if (table.has(key))
      table.fail(key, "a figure of the topsoil outside it", "it inside topsoil",
                 "Write topsoil = { " + std::string(key) + " = ... }.");
  table.done();
  return soil;
}
} // namespace

void read_soils(const TableReader& root, Context& context) {
  auto& soils = context.site.soils;
  for (const TableReader& table : root.tables("soil")) {
    Soil soil = read_soil(table, soils.size() + 1);
    refuse_taken(table, soil.name, soils, "soil");
    soils.push_back(std::move(soil));
  }
  if (!soils.empty()) return;
  static const toml::table nothing;
  soils.push_back(read_soil(TableReader(nothing, "soil[1]", context), 1));
}

} // namespace lowspot::site
