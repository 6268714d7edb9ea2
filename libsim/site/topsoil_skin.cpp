#include <lowspot/site/topsoil_skin.hpp>

#include <lowspot/base/text.hpp>
#include <lowspot/site/soil_figures.hpp>
#include <lowspot/site/usual_range.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {

void read_compaction(const TableReader& table, Soil& soil, bool measured, bool of_texture) {
  const auto factor = table.maybe_number_band("compaction", 1e-4, 1);
  if (!factor) {
    if (of_texture && !measured)
      table.assume("compaction", "1 (none; a lawn of ten years or more 0.3, a new graded lot 0.1)");
    return;
  }
  if (measured) {
    table.warn("compaction", "is not used: the hole test measured the ground as compacted as it is");
    return;
  }
  Band& k = soil.conductivity;
  if (of_texture) {
    // The band of a texture spans all compactions; with one named, what is left is about a third to twice it.
    const Band spread =
        factor->is_band() ? *factor : Band{factor->likely / 3, factor->likely, 2 * factor->likely};
    k = {k.likely * spread.low, k.likely * spread.likely, k.likely * spread.high};
  } else {
    k = {k.low * factor->low, k.likely * factor->likely, k.high * factor->high};
  }
}

void read_crust(const TableReader& table, Soil& soil) {
  const auto crust = table.table("crust");
  if (!crust) return;
  const Site& site = table.context().site;
  if (const auto thickness = crust->maybe_quantity("thickness", Dimension::length, Range::positive)) {
    soil.crust_thickness = *thickness;
    warn_outside(*crust, "thickness", *thickness, usual::crust_thickness);
  } else {
    soil.crust_thickness = 0.01;
    crust->assume("thickness", written(soil.crust_thickness, Dimension::length, site));
  }
  if (const auto conductivity = crust->maybe_quantity("conductivity", Dimension::speed)) {
    soil.crust_conductivity = *conductivity;
  } else {
    soil.crust_conductivity = 0.1 * soil.conductivity.likely;
    crust->assume("conductivity",
                  written(soil.crust_conductivity, Dimension::speed, site) + " (a tenth of the topsoil's)");
  }
  crust->done();
  const double conductivity = soil.crust_conductivity;
  if (conductivity > 0)
    warn_of_conductivity(*crust, "conductivity", {conductivity, conductivity, conductivity});
  if (soil.crust_conductivity > soil.conductivity.likely)
    crust->warn("conductivity",
                "lets more through than the topsoil, so the crust hardly matters; check the unit");
  if (soil.crust_conductivity <= 0)
    crust->warn("conductivity", "is nothing, so no water goes in anywhere on this soil");
}

} // namespace lowspot::site
