#include <lowspot/site/soil_figures.hpp>

#include "sample.hpp"

using namespace lowspot;
using namespace lowspot::site;

namespace {
Soil topsoil(sample::Fixture& f) {
  Soil soil;
  read_topsoil_depth(f.reader, soil);
  read_topsoil(f.reader, soil, {});
  f.reader.done();
  return soil;
}
} // namespace

TEST_CASE("nothing given: silt loam, every figure listed") {
  sample::Fixture f("");
  const Soil soil = topsoil(f);
  CHECK(soil.texture == "silt loam");
  CHECK(soil.porosity == 0.5);
  CHECK(soil.field_capacity == Approx(0.33));
  CHECK(soil.drainable_porosity.likely == 0.06);
  CHECK(soil.drainable_porosity.high == 0.12);
  CHECK(soil.conductivity.likely == 1.8e-6);
  CHECK(soil.depth.likely == Approx(0.1524));
  for (const char* key : {"texture", "depth", "conductivity", "porosity", "field_capacity", "wilting_point",
                          "residual", "wetting_front_suction", "pore_size_index", "drainable_porosity"})
    CHECK(sample::assumed(f.site, key) != "not listed");
}

TEST_CASE("everything given: no texture, nothing assumed but the residual") {
  sample::Fixture f("depth = \"1 m\"\nconductivity = \"10 mm/hr\"\nporosity = 0.45\nfield_capacity = "
                    "0.3\nwilting_point = 0.1\n"
                    "wetting_front_suction = \"110 mm\"\ndrainable_porosity = 0.1\npore_size_index = 0.4");
  const Soil soil = topsoil(f);
  CHECK(soil.texture == "own figures");
  CHECK(soil.conductivity.likely == Approx(0.01 / 3600));
  CHECK(soil.wetting_front_suction == Approx(0.11));
  CHECK(soil.drainable_porosity.high == 0.1);
  CHECK(f.site.assumptions.size() == 1);
  CHECK(sample::assumed(f.site, "residual") == "0");
}

TEST_CASE("drainable porosity gives field capacity, and the other way round") {
  sample::Fixture a("porosity = 0.4\ndrainable_porosity = 0.08");
  CHECK(topsoil(a).field_capacity == Approx(0.33 * 0.8)); // the texture's, whatever drains beside a table
  CHECK(sample::assumed(a.site, "field_capacity") == "0.264");
  sample::Fixture full("porosity = 0.4\ndrainable_porosity = 0.18");
  CHECK(topsoil(full).field_capacity == Approx(0.22)); // no more is held than does not drain
  CHECK_THAT(sample::assumed(full.site, "field_capacity"), ContainsSubstring("porosity less"));
  sample::Fixture own("porosity = 0.4\ndrainable_porosity = 0.08\nwilting_point = 0.1\nconductivity = \"1 "
                      "in/hr\"\nwetting_front_suction = \"4 in\"\npore_size_index = 0.3");
  CHECK(topsoil(own).field_capacity == Approx(0.32)); // of no texture
  sample::Fixture b("porosity = 0.4\nfield_capacity = 0.38");
  const Soil soil = topsoil(b);
  CHECK(soil.drainable_porosity.likely == Approx(0.02)); // the texture's 0.06 has no room
  CHECK(soil.drainable_porosity.high == Approx(0.02));
  sample::Fixture c("porosity = 0.4\nfield_capacity = 0.2");
  CHECK(topsoil(c).drainable_porosity.likely == 0.06);
}

TEST_CASE("stating the usual drainable porosity changes nothing") {
  sample::Fixture bare("texture = \"silt loam\""),
      stated("texture = \"silt loam\"\ndrainable_porosity = 0.06");
  CHECK(topsoil(stated).field_capacity == topsoil(bare).field_capacity);
}

TEST_CASE("fewer pores to drain than are computed with are refused") {
  sample::Fixture few("drainable_porosity = 0.004"), none("porosity = 0.4\nfield_capacity = 0.397");
  CHECK_THROWS_WITH(topsoil(few), ContainsSubstring("0.005"));
  CHECK_THROWS_WITH(topsoil(none), ContainsSubstring("0.005 or more"));
}

TEST_CASE("a texture named and one figure replaced") {
  sample::Fixture f("texture = \"Sand\"\nporosity = 0.33");
  const Soil soil = topsoil(f);
  CHECK(soil.texture == "sand");
  CHECK(soil.porosity == 0.33);
  CHECK(soil.field_capacity == Approx(0.33 * 0.33 / 0.44)); // the same share of its pores
  CHECK(soil.wilting_point <= soil.field_capacity);
}

TEST_CASE("moisture contents must rise in their order") {
  sample::Fixture a("porosity = 0.4\nfield_capacity = 0.2\nwilting_point = 0.3");
  CHECK_THROWS_WITH(topsoil(a), ContainsSubstring("at most the field capacity"));
  sample::Fixture b("porosity = 0.4\nfield_capacity = 0.3\ndrainable_porosity = 0.2");
  CHECK_THROWS_WITH(topsoil(b), ContainsSubstring("porosity less field capacity"));
  sample::Fixture c("wilting_point = 0.1\nresidual = 0.2");
  CHECK_THROWS_WITH(topsoil(c), ContainsSubstring("at most the wilting point"));
  sample::Fixture d("porosity = 0.4\nfield_capacity = 0.4");
  CHECK_THROWS_WITH(topsoil(d), ContainsSubstring("less than the porosity"));
  sample::Fixture e("porosity = 40");
  CHECK_THROWS_AS(topsoil(e), InputError);
}

TEST_CASE("conductivities no ground has are warned of") {
  sample::Fixture fast("conductivity = \"60 in/hr\"");
  topsoil(fast);
  CHECK(sample::warned(fast.site, "faster than any yard soil"));
  sample::Fixture slow("conductivity = \"0.00005 in/hr\"");
  topsoil(slow);
  CHECK(sample::warned(slow.site, "tighter than any soil"));
  sample::Fixture usual("conductivity = \"1 in/hr\"");
  topsoil(usual);
  CHECK(usual.site.warnings.empty());
}

TEST_CASE("an unknown texture is answered with those that exist") {
  sample::Fixture f("texture = \"silt laom\"");
  CHECK_THROWS_WITH(topsoil(f),
                    ContainsSubstring("Did you mean \"silt loam\"?") && ContainsSubstring("\"sand\""));
}

TEST_CASE("a topsoil that the texture or a yard cannot have is warned of") {
  sample::Fixture fast("texture = \"silt loam\"\nconductivity = \"20 in/hr\"");
  topsoil(fast);
  CHECK(sample::warned(fast.site, "20 in/hr is more than 10 times what the fastest silt loam takes in"));
  sample::Fixture deep("depth = \"8 ft\"");
  Soil soil;
  read_topsoil_depth(deep.reader, soil);
  CHECK(sample::warned(deep.site, "8 ft of topsoil is deeper than yards have"));
  sample::Fixture usual("depth = \"3 ft\"");
  read_topsoil_depth(usual.reader, soil);
  CHECK(usual.site.warnings.empty());
}

TEST_CASE("a texture named together with figures of other ground is warned of, each with what it would do") {
  const auto said = [](const std::string& figures) {
    sample::Fixture f("texture = \"silt loam\"\n" + figures);
    topsoil(f);
    return f.site.warnings;
  };
  const auto says = [&](const std::string& figures, const std::string& words) {
    CAPTURE(figures);
    const std::vector<std::string> warnings = said(figures);
    REQUIRE(warnings.size() == 1);
    CHECK_THAT(warnings[0], ContainsSubstring(words));
  };
  // Sample ranges: 0.2e-6 to 10e-6 m/s, which is 0.72 to 36 mm/hr; porosity 0.42 to 0.58; suction 170 mm.
  says("conductivity = \"0.07 mm/hr\"", "so nearly all rain will run off or stand");
  says("conductivity = \"361 mm/hr\"", "so hardly any rain will run off");
  says("porosity = 0.31\nfield_capacity = 0.25", "less room for rain");
  says("porosity = 0.7", "more room for rain");
  says("wetting_front_suction = \"80 mm\"", "drinks too little");
  says("wetting_front_suction = \"350 mm\"", "drinks too much");
  // Within what the texture may be, nothing; nor where no texture is named, whose figures fill in only.
  CHECK(said("conductivity = \"0.08 mm/hr\"").empty());
  CHECK(said("conductivity = \"350 mm/hr\"").empty());
  CHECK(said("porosity = 0.33\nfield_capacity = 0.25").empty());
  CHECK(said("porosity = 0.67").empty());
  CHECK(said("wetting_front_suction = \"90 mm\"").empty());
  CHECK(said("wetting_front_suction = \"330 mm\"").empty());
  sample::Fixture unnamed("porosity = 0.31\nfield_capacity = 0.25\nwetting_front_suction = \"80 "
                          "mm\"\nconductivity = \"0.07 mm/hr\"");
  topsoil(unnamed);
  CHECK(unnamed.site.warnings.empty());
}
