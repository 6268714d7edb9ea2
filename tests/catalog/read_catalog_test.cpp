#include "catch.hpp"

#include <algorithm>
#include <cmath>

#include <lowspot/catalog/catalog.hpp>

using namespace lowspot;
using namespace lowspot::catalog;

namespace {
const Catalog& shipped() {
  static const Catalog catalog = read_catalog(std::filesystem::path(LOWSPOT_SOURCE_DATA) / "catalog");
  return catalog;
}
template <class Row>
const Row& named(const std::vector<Row>& rows, const std::string& name) {
  const auto found = std::find_if(rows.begin(), rows.end(), [&](const Row& row) { return row.name == name; });
  INFO(name);
  REQUIRE(found != rows.end());
  return *found;
}
} // namespace

TEST_CASE("The names that site files use are there") {
  for (const char* name : {"concrete", "paver", "asphalt", "lawn", "dense lawn", "mulched bed", "bare soil",
                           "gravel", "woodland edge"})
    named(shipped().covers, name);
  for (const char* name : {"silt loam", "clay", "sandy clay loam"}) named(shipped().soils, name);
  for (const char* name :
       {"3 in corrugated", "4 in corrugated", "6 in corrugated", "4 in smooth-lined corrugated",
        "4 in PVC sewer and drain", "4 in PVC schedule 40", "3 in triple-wall"})
    named(shipped().pipes, name);
  for (const char* name :
       {"No. 57, rounded, washed", "No. 57, crushed, washed", "No. 8, crushed", "pea gravel"})
    named(shipped().stones, name);
  for (const char* name : {"nonwoven 4 oz", "nonwoven 6 oz", "nonwoven 8 oz", "woven slit film"})
    named(shipped().fabrics, name);
  for (const char* name : {"open stone", "mulch over stone", "sod", "grate"}) named(shipped().caps, name);
  for (const char* name :
       {"shrubs", "perennials", "lawn grass", "vegetables", "trees", "hydrangea", "redtwig dogwood"})
    named(shipped().plants, name);
  CHECK(shipped().soils.size() == 11);
  REQUIRE(shipped().climate.size() == 12);
  CHECK(shipped().climate[4].month == "May");
}

TEST_CASE("Figures arrive in SI units") {
  const Pipe& pipe = named(shipped().pipes, "4 in corrugated");
  CHECK(pipe.inside_diameter == Approx(0.1016));
  CHECK(pipe.slot_area == Approx(0.002));
  const SoilTexture& loam = named(shipped().soils, "sandy loam");
  CHECK(loam.conductivity.value == Approx(10.9e-3 / 3600));
  CHECK(loam.saturated_conductivity == Approx(25.9e-3 / 3600));
  CHECK(loam.wetting_front_suction.value == Approx(0.1101));
  CHECK(loam.bubbling_pressure == Approx(0.1466));
  CHECK(named(shipped().covers, "lawn").depression_storage.value == Approx(0.003));
  CHECK(named(shipped().stones, "pea gravel").d50 == Approx(0.0065));
  CHECK(named(shipped().fabrics, "nonwoven 8 oz").opening_size == Approx(0.00018));
  CHECK(named(shipped().caps, "mulch over stone").depth == Approx(0.0508));
  CHECK(named(shipped().plants, "vegetables").hours_to_damage.low == Approx(86400));
  CHECK(shipped().climate[4].reference_et == Approx(4.15e-3 / 86400));
}

TEST_CASE("The soil figures agree with each other") {
  for (const SoilTexture& soil : shipped().soils) {
    INFO(soil.name);
    // Wetting-front suction from the Brooks-Corey set (Rawls et al. 1983): psi_b / 2 (2 + 3 lambda) / (1 + 3
    // lambda).
    const double lambda = soil.pore_size_index;
    CHECK(soil.wetting_front_suction.value ==
          Approx(soil.bubbling_pressure / 2 * (2 + 3 * lambda) / (1 + 3 * lambda)).epsilon(0.02));
    // Ranges of suction are geometric, those of effective porosity arithmetic about porosity less residual.
    CHECK(std::sqrt(soil.wetting_front_suction.low * soil.wetting_front_suction.high) ==
          Approx(soil.wetting_front_suction.value).epsilon(0.01));
    CHECK((soil.effective_porosity.low + soil.effective_porosity.high) / 2 ==
          Approx(soil.porosity.value - soil.residual).margin(0.002));
    CHECK(soil.effective_porosity.value == Approx(soil.porosity.value - soil.residual).margin(0.002));
    CHECK(soil.conductivity.value < soil.saturated_conductivity);
    CHECK(soil.drainable_porosity.value < soil.porosity.value - soil.field_capacity);
  }
}

TEST_CASE("Stone obeys the laws its figures come from") {
  for (const Stone& stone : shipped().stones) {
    INFO(stone.name);
    CHECK(stone.d10 < stone.d50);
    // Dry density of grains of specific gravity 2.65 to 2.66 at this porosity.
    CHECK(stone.bulk_density == Approx(2655 * (1 - stone.porosity.value)).epsilon(0.005));
  }
}

TEST_CASE("A cap without a conductivity is made of topsoil, one without a depth is not") {
  CHECK(named(shipped().caps, "sod").conductivity.value == 0);
  CHECK(named(shipped().caps, "sod").depth > 0);
  CHECK(named(shipped().caps, "open stone").conductivity.value ==
        named(shipped().stones, "No. 57, rounded, washed").conductivity.value);
  CHECK(named(shipped().caps, "open stone").depth == 0);
}

TEST_CASE("Paving takes no water in and hard ground needs none") {
  for (const Cover& cover : shipped().covers) {
    INFO(cover.name);
    CHECK(cover.manning_n_deep <= std::max(cover.manning_n.value, 0.035));
    if (cover.impervious) CHECK(cover.crop_coefficient == 0);
  }
  CHECK(named(shipped().covers, "concrete").impervious);
  CHECK_FALSE(named(shipped().covers, "gravel").impervious);
}
