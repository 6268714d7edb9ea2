#include <lowspot/site/topsoil_skin.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/site/soil_figures.hpp>
#include <lowspot/site/usual_range.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {

void read_compaction(const TableReader& table, const TableReader& topsoil, Soil& soil, bool measured,
                     bool of_texture) {
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
    const double before = k.likely;
    k = {k.likely * spread.low, k.likely * spread.likely, k.likely * spread.high};
    Site& site = table.context().site;
    for (Assumption& assumption : site.assumptions)
      if (assumption.key == topsoil.path("conductivity"))
        assumption.value = written(k, Dimension::speed, site) + ", " +
                           written(before, Dimension::speed, site) + " of " + soil.texture +
                           " times the compaction";
  } else {
    k = {k.low * factor->low, k.likely * factor->likely, k.high * factor->high};
  }
}

void pack_pores(const TableReader& table, const TableReader& topsoil, Soil& soil) {
  const auto factor = table.maybe_number_band("compaction", 1e-4, 1);
  if (!factor || factor->likely >= 1 || topsoil.has("drainable_porosity")) return;
  constexpr double share = 0.2, least = 0.01, most = 0.05, left = 0.01;
  Band& pores = soil.drainable_porosity;
  const double taken =
      std::clamp(share * pores.likely, least, most) * std::min(1.0, -std::log10(factor->likely));
  const double before = pores.likely;
  for (double* one : {&pores.low, &pores.likely, &pores.high})
    *one = std::max(*one - taken, std::min(*one, left));
  const std::string value =
      rounded(pores.likely) +
      (pores.is_band() ? " (" + rounded(pores.low) + " to " + rounded(pores.high) + ")" : "") + ", " +
      rounded(before) + " less what compaction takes";
  for (Assumption& assumption : table.context().site.assumptions)
    if (assumption.key == topsoil.path("drainable_porosity")) assumption.value = value;
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
