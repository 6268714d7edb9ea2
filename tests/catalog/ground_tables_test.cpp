#include "catch.hpp"

#include <cmath>
#include <filesystem>
#include <fstream>
#include <string_view>

#include <lowspot/base/error.hpp>
#include <lowspot/catalog/tables.hpp>

using namespace lowspot;
using namespace lowspot::catalog;

namespace {
const std::filesystem::path folder = LOWSPOT_SOURCE_DATA "/catalog";
template <typename Row>
const Row& named(const std::vector<Row>& rows, std::string_view name) {
  for (const Row& row : rows)
    if (row.name == name) return row;
  throw InputError({"", 0, std::string(name)}, "no such row", "", "");
}
} // namespace

TEST_CASE("Covers by the names a site file uses; only hard ones shed everything") {
  const auto covers = read_covers(folder / "covers.csv");
  for (const char* hard : {"concrete", "paver", "asphalt"}) CHECK(named(covers, hard).impervious);
  for (const char* soft : {"lawn", "dense lawn", "mulched bed", "bare soil", "gravel", "woodland edge"})
    CHECK_FALSE(named(covers, soft).impervious);
  const Cover& lawn = named(covers, "lawn");
  CHECK(lawn.manning_n.value == 0.15);
  CHECK(lawn.manning_n_deep < lawn.manning_n.low); // deep flow lays grass over
  CHECK(lawn.depression_storage.value == Approx(0.003));
  CHECK(lawn.vegetation_height == 0.05);
  CHECK(named(covers, "concrete").manning_n.value == 0.011);
}

TEST_CASE("Soils agree with the relation between bubbling pressure and suction at the wetting front") {
  const auto soils = read_soils(folder / "soils.csv");
  CHECK(soils.size() == 11);
  for (const SoilTexture& soil : soils) {
    INFO(soil.name);
    // Brakensiek (1977): suction = bubbling pressure / 2 * (2 + 3 lambda) / (1 + 3 lambda), to 1.6 %.
    const double l = soil.pore_size_index;
    const double suction = soil.bubbling_pressure / 2 * (2 + 3 * l) / (1 + 3 * l);
    CHECK(suction == Approx(soil.wetting_front_suction.value).epsilon(0.02));
    // The range of the suction is one of logarithms: its geometric mean is the figure.
    CHECK(std::sqrt(soil.wetting_front_suction.low * soil.wetting_front_suction.high) ==
          Approx(soil.wetting_front_suction.value).epsilon(0.005));
    CHECK(soil.effective_porosity.value == Approx(soil.porosity.value - soil.residual).margin(0.003));
    // Only part of what lies between field capacity and saturation drains to a shallow table.
    CHECK(soil.drainable_porosity.value < soil.porosity.value - soil.field_capacity);
  }
  CHECK(named(soils, "silt loam").conductivity.value == Approx(6.5e-3 / 3600));
  CHECK(named(soils, "silt loam").wetting_front_suction.value == Approx(0.1668));
  CHECK(named(soils, "clay loam").effective_porosity.value == 0.390);
}

TEST_CASE("Plants and months") {
  const auto plants = read_plants(folder / "plants.csv");
  for (const char* kind : {"shrubs", "perennials", "lawn grass", "vegetables", "trees", "evergreen screen"})
    CHECK(named(plants, kind).root_depth.value > 0.1);
  CHECK(named(plants, "yew").wet_feet == "low");
  CHECK(named(plants, "shrubs").wet_feet == "moderate");
  CHECK(named(plants, "redtwig dogwood").wet_feet == "high");
  CHECK(named(plants, "yew").hours_to_damage.low == 24 * 3600.0);
  const auto climate = read_climate(folder / "climate.csv");
  REQUIRE(climate.size() == 12);
  CHECK(climate[4].month == "May");
  CHECK(climate[4].reference_et == Approx(4.15e-3 / 86400));
  double year = 0;
  for (const ClimateMonth& month : climate) year += month.reference_et * 86400 * 365.25 / 12;
  CHECK(year == Approx(1.01).epsilon(0.03)); // about 1010 mm a year
}

TEST_CASE("Water contents out of order and an unknown tolerance are refused") {
  const auto scratch = std::filesystem::temp_directory_path() / "lowspot_ground_tables_test.csv";
  std::ofstream(scratch) << "name,porosity,effective_porosity,wetting_front_suction_cm,conductivity_mm_h,"
                            "saturated_conductivity_mm_h,field_capacity,wilting_point,residual,"
                            "pore_size_index,bubbling_pressure_cm,drainable_porosity,source,mark\n"
                            "odd,0.4,0.3,10,5,9,0.1,0.2,0.05,0.3,15,0.1,made up,default\n";
  CHECK_THROWS_WITH(read_soils(scratch), ContainsSubstring("out of order"));
  std::ofstream(scratch) << "name,root_depth_m,depletion_fraction,crop_coefficient,hours_to_damage_low,"
                            "hours_to_damage_high,wet_feet,source,mark\n"
                            "odd,0.4,0.5,0.6,24,48,some,made up,default\n";
  CHECK_THROWS_WITH(read_plants(scratch), ContainsSubstring("low, moderate or high"));
  std::filesystem::remove(scratch);
}
