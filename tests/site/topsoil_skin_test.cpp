#include <lowspot/site/topsoil_skin.hpp>

#include <cmath>

#include <lowspot/site/wording.hpp>

#include "sample.hpp"

using namespace sample;

namespace {
constexpr double in_per_hour = 0.0254 / 3600;

site::Site with(const std::string& topsoil) {
  return read(yard("[[soil]]\ntopsoil = { " + topsoil + " }\n"));
}
} // namespace

TEST_CASE("compaction multiplies a stated conductivity") {
  const site::Band k = with("conductivity = [\"0.1 in/hr\", \"0.2 in/hr\", \"0.6 in/hr\"], compaction = 0.3")
                           .soils[0]
                           .conductivity;
  CHECK(k.low == Approx(0.03 * in_per_hour));
  CHECK(k.likely == Approx(0.06 * in_per_hour));
  CHECK(k.high == Approx(0.18 * in_per_hour));
}

TEST_CASE("compaction of a texture: its band no longer spans every compaction") {
  const site::Site plain = with("texture = \"silt loam\""),
                   packed = with("texture = \"silt loam\", compaction = 0.1");
  CHECK(packed.soils[0].conductivity.likely == Approx(0.1 * plain.soils[0].conductivity.likely));
  CHECK(packed.soils[0].conductivity.high < plain.soils[0].conductivity.likely);
  CHECK_THAT(assumed(plain, "soil[1].topsoil.compaction"), ContainsSubstring("0.3"));
  CHECK(assumed(packed, "soil[1].topsoil.compaction") == "not listed");
  // What is listed is what is computed with.
  CHECK_THAT(
      assumed(packed, "soil[1].topsoil.conductivity"),
      Catch::Matchers::StartsWith(site::written(packed.soils[0].conductivity, Dimension::speed, packed)) &&
          ContainsSubstring("of silt loam times the compaction"));
  const site::Band band =
      with("texture = \"silt loam\", compaction = [0.01, 0.1, 0.3]").soils[0].conductivity;
  CHECK(band.low == Approx(0.1 * band.likely));
  CHECK(band.high == Approx(3 * band.likely));
}

TEST_CASE("a crust with its figures, and with what is usual") {
  const site::Soil soil =
      with("conductivity = \"1 in/hr\", crust = { conductivity = \"0.05 in/hr\", thickness = \"5 mm\" }")
          .soils[0];
  CHECK(soil.crust_conductivity == Approx(0.05 * in_per_hour));
  CHECK(soil.crust_thickness == Approx(0.005));
  const site::Site usual = with("conductivity = \"1 in/hr\", crust = {}");
  CHECK(usual.soils[0].crust_conductivity == Approx(0.1 * in_per_hour));
  CHECK(usual.soils[0].crust_thickness == Approx(0.01));
  CHECK(assumed(usual, "soil[1].topsoil.crust.thickness") != "not listed");
  CHECK(assumed(usual, "soil[1].topsoil.crust.conductivity") != "not listed");
  CHECK(with("conductivity = \"1 in/hr\"").soils[0].crust_thickness == 0);
}

TEST_CASE("both may stand at the head of the soil, but not twice") {
  const site::Site outside = read(yard("[[soil]]\ncompaction = 0.5\ncrust = { thickness = \"1 cm\" "
                                       "}\ntopsoil = { conductivity = \"1 in/hr\" }\n"));
  CHECK(outside.soils[0].conductivity.likely == Approx(0.5 * in_per_hour));
  CHECK(outside.soils[0].crust_thickness == Approx(0.01));
  CHECK_THAT(error_of(yard("[[soil]]\ncompaction = 0.5\ntopsoil = { compaction = 0.5 }")).found,
             ContainsSubstring("twice"));
}

TEST_CASE("figures out of range, and a compaction that was measured along") {
  CHECK(error_of(yard("[[soil]]\ntopsoil = { compaction = 3 }")).where.key == "soil[1].topsoil.compaction");
  CHECK_THAT(error_of(yard("[[soil]]\ntopsoil = { crust = { thicknes = \"1 cm\" } }")).mend,
             ContainsSubstring("thickness"));
  CHECK(warned(with("conductivity = \"1 in/hr\", crust = { conductivity = \"2 in/hr\" }"), "hardly matters"));
  const Folder folder;
  folder.write("holes.csv", "hole,diameter_in,depth_in,water_depth_in,rate,presoak\nA,6,7,5,2 in/hr,yes\n");
  const site::Site measured =
      read(yard("[[soil]]\nhole_test = \"holes.csv\"\ntopsoil = { depth = \"8 in\", compaction = 0.1 }\n"),
           folder);
  CHECK(warned(measured, "measured the ground as compacted as it is"));
  CHECK(measured.soils[0].conductivity.likely > 0.1 * in_per_hour);
}

TEST_CASE("compaction takes some of the pores that drain, unless they are stated") {
  const site::Site packed = with("texture = \"silt loam\", compaction = 0.1");
  CHECK(packed.soils[0].drainable_porosity.likely == Approx(0.06 - 0.012));
  CHECK(packed.soils[0].drainable_porosity.low == Approx(0.04 - 0.012));
  CHECK_THAT(assumed(packed, "soil[1].topsoil.drainable_porosity"),
             ContainsSubstring("0.048") && ContainsSubstring("0.06 less what compaction takes"));
  CHECK(with("texture = \"silt loam\", compaction = 0.3").soils[0].drainable_porosity.likely ==
        Approx(0.06 + 0.012 * std::log10(0.3)));
  CHECK(with("texture = \"silt loam\", compaction = 1").soils[0].drainable_porosity.likely == 0.06);
  CHECK(with("compaction = 0.1, drainable_porosity = 0.05").soils[0].drainable_porosity.likely == 0.05);
  // Little is left where there is little, and none is added.
  CHECK(
      with("porosity = 0.4, field_capacity = 0.385, compaction = 0.01").soils[0].drainable_porosity.likely ==
      Approx(0.01));
  CHECK(
      with("porosity = 0.4, field_capacity = 0.394, compaction = 0.01").soils[0].drainable_porosity.likely ==
      Approx(0.006));
}
