#include <lowspot/site/readers.hpp>

#include <cmath>

#include "sample.hpp"

using namespace sample;

TEST_CASE("without a [[soil]] there is one of usual figures") {
  const auto site = read(yard(""));
  REQUIRE(site.soils.size() == 1);
  CHECK(site.soils[0].name == "yard");
  CHECK(site.soils[0].tight_conductivity.is_band());
  CHECK(std::isinf(site.soils[0].tight_thickness));
  CHECK_THAT(assumed(site, "soil[1].tight_layer.conductivity"), ContainsSubstring("0.01 in/hr"));
  CHECK(assumed(site, "soil[1].start") == "moist");
}

TEST_CASE("how wet it is at the start") {
  const std::string figures = "topsoil = { porosity = 0.5, field_capacity = 0.3 }\n";
  const auto start_of = [&](const std::string& more) {
    return read(yard("[[soil]]\n" + figures + more)).soils.at(0);
  };
  CHECK(start_of("start = \"drained\"").initial_moisture == Approx(0.3));
  CHECK(start_of("start = \"moist\"").initial_moisture == Approx(0.35));
  CHECK(start_of("start = \"moist\"").perched_start == 0);
  CHECK(start_of("start = \"wet\"").initial_moisture == Approx(0.3));
  CHECK(start_of("start = \"wet\"").perched_start == Approx(0.0762));
  CHECK(start_of("start = \"wet\"\nperched = \"1 in\"").perched_start == Approx(0.0254));
  CHECK(start_of("perched = \"1 in\"").perched_start == Approx(0.0254));
  CHECK(start_of("initial_moisture = 0.2").initial_moisture == 0.2);
  const auto inside = read(yard("[[soil]]\ntopsoil = { porosity = 0.5, field_capacity = 0.3, "
                                "initial_moisture = 0.25, perched = \"2 in\" }"));
  CHECK(inside.soils.at(0).initial_moisture == 0.25);
  CHECK(inside.soils.at(0).perched_start == Approx(0.0508));
  CHECK_THAT(assumed(read(yard("[[soil]]\nstart = \"wet\"")), "soil[1].perched"), ContainsSubstring("3 in"));
}

TEST_CASE("the tight layer") {
  const auto site =
      read(yard("[[soil]]\ntight_layer = { conductivity = \"2 mm/d\", thickness = \"20 cm\" }"));
  CHECK(site.soils[0].tight_conductivity.likely == Approx(0.002 / 86400));
  CHECK(site.soils[0].tight_thickness == Approx(0.2));
  CHECK(read(yard("[[soil]]\ntight_layer = { conductivity = \"0 mm/hr\" }"))
            .soils[0]
            .tight_conductivity.likely == 0);
  CHECK(warned(read(yard("[[soil]]\ntight_layer = { porosity = 0.4 }")), "only leaks"));
}

TEST_CASE("soils that cannot be used") {
  CHECK_THAT(error_of(yard("[[soil]]\nname = \"a\"\n[[soil]]\nname = \"a\"")).found,
             ContainsSubstring("second soil called \"a\""));
  CHECK_THAT(error_of(yard("[[soil]]\nporosity = 0.4")).mend, ContainsSubstring("topsoil = {"));
  CHECK_THAT(error_of(yard("[[soil]]\ninitial_moisture = 0.7")).expected,
             ContainsSubstring("to the porosity"));
  CHECK_THAT(error_of(yard("[[soil]]\ntopsoil = { depth = \"4 in\" }\nperched = \"6 in\"")).expected,
             ContainsSubstring("depth of the topsoil"));
  CHECK_THAT(error_of(yard("[[soil]]\nperched = \"1 in\"\ntopsoil = { perched = \"1 in\" }")).found,
             ContainsSubstring("twice"));
  CHECK_THAT(error_of(yard("[[soil]]\ntopsoil = { conductvity = \"1 in/hr\" }")).mend,
             ContainsSubstring("`conductivity`"));
  const auto unit = error_of(yard("[[soil]]\ntopsoil = { conductivity = \"1 in\" }"));
  CHECK(unit.where.key == "soil[1].topsoil.conductivity");
  CHECK(unit.where.line == 8);
}

TEST_CASE("a tight layer that lets more through than the topsoil is warned of") {
  const auto with = [](const std::string& tight) {
    return read(yard("[[soil]]\ntopsoil = { texture = \"silt loam\", conductivity = \"0.1 in/hr\" }\n"
                     "tight_layer = { conductivity = \"" +
                     tight + "\" }\n"));
  };
  CHECK(warned(with("3 in/hr"), "soil[1].tight_layer: lets more through, 3 in/hr, than the topsoil"));
  CHECK(with("0.1 in/hr").warnings.empty());
}
