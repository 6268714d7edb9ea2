#include <lowspot/site/materials.hpp>

#include "sample.hpp"

using namespace lowspot;
using namespace lowspot::site;
using sample::Fixture;

TEST_CASE("a pipe by name, slotted or solid") {
  Fixture slotted("pipe = \"3 in Corrugated, slotted\"");
  const PipeChoice a = read_pipe(slotted.reader, true);
  CHECK(a.name == "3 in corrugated, slotted");
  CHECK(a.slot_area == 0.002);
  CHECK(a.diameter == 0.0762);
  Fixture solid("pipe = \"3 in corrugated, solid\"");
  CHECK(read_pipe(solid.reader, true).slot_area == 0);
}

TEST_CASE("a pipe that does not say is slotted in a trench, solid elsewhere, and listed") {
  Fixture in_trench("pipe = \"3 in corrugated\""), outside("pipe = \"3 in corrugated\""),
      sewer("pipe = \"4 in sewer\"");
  CHECK(read_pipe(in_trench.reader, true).slot_area == 0.002);
  CHECK(sample::assumed(in_trench.site, "pipe") == "3 in corrugated, slotted");
  CHECK(read_pipe(outside.reader, false).slot_area == 0);
  CHECK(sample::assumed(outside.site, "pipe") == "3 in corrugated, solid");
  CHECK(read_pipe(sewer.reader, true).slot_area == 0);
}

TEST_CASE("a pipe that is not made is answered with those that are") {
  Fixture size("pipe = \"5 in corrugated, slotted\"");
  CHECK_THROWS_WITH(read_pipe(size.reader, true),
                    ContainsSubstring("\"3 in corrugated\", \"4 in corrugated\", \"4 in sewer\""));
  Fixture slots("pipe = \"4 in sewer, slotted\"");
  CHECK_THROWS_WITH(read_pipe(slots.reader, true), ContainsSubstring("not made with slots"));
  Fixture none("");
  CHECK_THROWS_WITH(read_pipe(none.reader, true), ContainsSubstring("a pipe such as"));
}

TEST_CASE("a pipe by own figures") {
  Fixture f("pipe = { diameter = \"100 mm\", manning_n = 0.012, slot_area = \"4 cm2/m\" }");
  const PipeChoice a = read_pipe(f.reader, true);
  CHECK(a.diameter == Approx(0.1));
  CHECK_THAT(a.name, ContainsSubstring("pipe, own figures"));
  CHECK(a.outside_diameter == Approx(0.1));
  CHECK(a.slot_area == Approx(4e-4));
  CHECK(a.discharge_coefficient == 0.61);
  Fixture plain("pipe = { diameter = \"100 mm\" }");
  CHECK(read_pipe(plain.reader, true).manning_n == 0.015);
  CHECK(sample::assumed(plain.site, "pipe.manning_n") == "0.015");
  Fixture mixed("pipe = { kind = \"4 in corrugated, slotted\", manning_n = 0.02 }");
  const PipeChoice b = read_pipe(mixed.reader, true);
  CHECK(b.manning_n == 0.02);
  CHECK(b.diameter == 0.1016);
  Fixture thin("pipe = { diameter = \"4 in\", outside_diameter = \"3 in\" }");
  CHECK_THROWS_WITH(read_pipe(thin.reader, true), ContainsSubstring("inside diameter"));
}

TEST_CASE("stone by name, by figures, by default") {
  Fixture named("stone = \"no. 57, rounded, washed\""), none(""),
      own("stone = { porosity = 0.4, conductivity = \"5 cm/s\" }");
  CHECK(read_stone(named.reader).forchheimer_b == 208);
  CHECK(read_stone(none.reader).porosity == 0.38);
  CHECK(sample::assumed(none.site, "stone") == "No. 57, rounded, washed");
  const StoneChoice stone = read_stone(own.reader);
  CHECK(stone.conductivity == Approx(0.05));
  CHECK(stone.forchheimer_b == 0);
  Fixture b("stone = { porosity = 0.4, conductivity = \"5 cm/s\", forchheimer_b = \"200 s2/m2\" }");
  CHECK(read_stone(b.reader).forchheimer_b == 200);
  Fixture bad("stone = { porosity = 0.4, conductivity = \"5 cm/s\", forchheimer_b = \"200 m\" }");
  CHECK_THROWS_WITH(read_stone(bad.reader), ContainsSubstring("s2/m2"));
  for (const std::string bad_b : {"inf", "infinity", "nan", "0x10", "-1", "1e400", ""}) {
    Fixture none_of_these("stone = { porosity = 0.4, conductivity = \"5 cm/s\", forchheimer_b = \"" + bad_b +
                          " s2/m2\" }");
    CAPTURE(bad_b);
    CHECK_THROWS_WITH(read_stone(none_of_these.reader), ContainsSubstring("forchheimer_b"));
  }
  Fixture part("stone = { porosity = 0.4 }");
  CHECK_THROWS_WITH(read_stone(part.reader), ContainsSubstring("stone.conductivity"));
}

TEST_CASE("fabric: none unless named") {
  Fixture none(""), said("fabric = \"none\""), named("fabric = { kind = \"nonwoven 6 oz\", clogging = 10 }"),
      own("fabric = { permittivity = \"0.5 1/s\" }"),
      less("fabric = { kind = \"nonwoven 6 oz\", clogging = 0.5 }");
  CHECK(read_fabric(none.reader).permittivity == 0);
  CHECK(sample::assumed(none.site, "fabric") == "none");
  CHECK(read_fabric(said.reader).permittivity == 0);
  CHECK(said.site.assumptions.empty());
  CHECK(read_fabric(named.reader).permittivity == 1.5);
  CHECK(read_fabric(named.reader).clogging == 10);
  CHECK(read_fabric(own.reader).permittivity == Approx(0.5));
  CHECK_THROWS_AS(read_fabric(less.reader), InputError);
}

TEST_CASE("a cap of sod takes the conductivity of the topsoil, open stone that of the stone") {
  Fixture none(""), mulch("cap = { kind = \"mulch over stone\", depth = \"3 in\" }"),
      open("cap = \"open stone\""), own("cap = { conductivity = \"1 in/hr\", depth = \"2 in\" }"),
      odd("cap = \"sodd\"");
  const CapChoice sod = read_cap(none.reader, 2e-6, 0.08);
  CHECK(sod.of_topsoil);
  CHECK(sod.conductivity == 2e-6);
  CHECK(sample::assumed(none.site, "cap") == "sod");
  const CapChoice a = read_cap(mulch.reader, 2e-6, 0.08);
  CHECK(a.conductivity == 1e-3);
  CHECK(a.depth == Approx(0.0762));
  CHECK_FALSE(a.of_topsoil);
  const CapChoice b = read_cap(open.reader, 2e-6, 0.08);
  CHECK(b.depth == 0);
  CHECK(b.conductivity == 0.08);
  CHECK_FALSE(b.of_topsoil);
  CHECK(read_cap(own.reader, 2e-6, 0.08).conductivity == Approx(0.0254 / 3600));
  CHECK_THROWS_WITH(read_cap(odd.reader, 2e-6, 0.08), ContainsSubstring("Did you mean \"sod\"?"));
}
