#include <lowspot/site/unknowns.hpp>

namespace lowspot::site {
namespace {

// Why the conductivity of a soil's tight layer is not known; empty when it was measured or given as a band.
std::string tight_layer_doubt(const Site& site, std::size_t soil) {
  const std::string key = "soil[" + std::to_string(soil + 1) + "].tight_layer.conductivity";
  for (const Assumption& assumption : site.assumptions)
    if (assumption.key == key)
      return assumption.tag == "measured"     ? ""
             : site.soils[soil].holes.empty() ? "it is a usual figure, and no hole test was read"
                                              : "it is a usual figure, since no hole gave one";
  return site.soils[soil].tight_conductivity.is_band() ? "" : "no band is given and no hole test was read";
}

} // namespace

std::vector<std::string> unknowns(const Site& site) {
  std::vector<std::string> list;
  if (site.ground.levels.empty() && site.ground.raster.empty())
    list.push_back("levels: no shots and no raster");
  for (std::size_t k = 0; k < site.soils.size(); ++k)
    if (const std::string why = tight_layer_doubt(site, k); !why.empty())
      list.push_back("soil '" + site.soils[k].name + "': how slow the tight layer is; " + why +
                     ", though it decides how long water stands");
  if (site.designs.empty()) list.push_back("designs: none proposed, so only the yard as it is can be run");
  return list;
}

} // namespace lowspot::site
