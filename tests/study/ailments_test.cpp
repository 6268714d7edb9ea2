#include "catch.hpp"
#include "simple_yard.hpp"

#include <set>

#include <lowspot/study/ailments.hpp>

using namespace lowspot;

TEST_CASE("each cause changes what it names and nothing else; what cannot ail is left out") {
  SimpleYard yard = simple_yard(20, 12, 0.25, [](double x, double) { return 1.0 + 0.02 * x; });
  make_pervious(yard);
  yard.site.soils[0].tight_conductivity = {1e-9, 1e-8, 1e-7};
  yard.site.designs = {simple_drain(yard, 0.45)};
  const site::Design& design = yard.site.designs[0];
  const auto all = study::ailments_of(yard.site, design, yard.ground);
  std::set<std::string> names;
  for (const study::Ailment& one : all) {
    names.insert(one.name);
    CHECK_FALSE(one.check.empty());
    const site::Run& run = one.design.runs[0];
    CHECK(one.name.find("cap") == std::string::npos); // its stone lies open to the surface
    CHECK(one.check.find("cap over") == std::string::npos);
    const bool cap = one.name == "the open stone is silted up",
               fabric = one.name.find("fabric") != std::string::npos;
    const bool soil = one.name.find("soil") != std::string::npos,
               belly = one.name.find("belly") != std::string::npos;
    CHECK((run.cap.depth > 0) == cap);
    CHECK((run.fabric.clogging > 1) == fabric);
    CHECK((one.site.soils[0].tight_conductivity.likely < 1e-8) == soil);
    CHECK((run.path.size() > 2) == belly);
    CHECK((one.design.outlets[0].kind != "daylight") == (one.name == "the outlet is blocked"));
    if (belly) {
      REQUIRE(run.inverts.size() == 3);
      CHECK(run.inverts[1] < run.inverts[2]);
      CHECK(one.design.as_dug);
    }
  }
  CHECK(names.size() == 5);
  site::Design capped = design;
  capped.runs[0].cap = {"sod", 1e-6, 0.1, true};
  std::set<std::string> of_capped;
  for (const study::Ailment& one : study::ailments_of(yard.site, capped, yard.ground)) {
    of_capped.insert(one.name);
    if (one.name.find("cap") != std::string::npos) CHECK(one.design.runs[0].cap.conductivity < 2e-7);
  }
  CHECK(of_capped.count("the cap over the stone is clogged") == 1);
  CHECK(of_capped.count("the open stone is silted up") == 0);
  site::Design bare = design;
  bare.runs[0].fabric = {};
  for (const study::Ailment& one : study::ailments_of(yard.site, bare, yard.ground))
    CHECK(one.name.find("fabric") == std::string::npos);
}

namespace {
std::vector<study::Ailment> named(const SimpleYard& yard, const std::string& name) {
  std::vector<study::Ailment> those;
  for (const study::Ailment& one : study::ailments_of(yard.site, yard.site.designs[0], yard.ground))
    if (one.name == name) those.push_back(one);
  return those;
}
SimpleYard drained() {
  SimpleYard yard = simple_yard(20, 12, 0.25, [](double x, double) { return 1.0 + 0.02 * x; });
  make_pervious(yard);
  yard.site.soils[0].tight_conductivity = {1e-8, 1e-8, 1e-8};
  yard.site.designs = {simple_drain(yard, 0.45)};
  return yard;
}
} // namespace

TEST_CASE("soil is made tighter by its bands, and by a third where there is one figure") {
  SimpleYard yard = drained();
  site::Soil& soil = yard.site.soils[0];
  yard.site.designs[0].runs[0].cap = {"sod", 1e-6, 0.1, true};
  auto tighter = named(yard, "the soil is tighter than thought");
  REQUIRE(tighter.size() == 2);
  CHECK(tighter[0].severity == "a third of the conductivity in the site file");
  CHECK(tighter[1].severity == "a ninth of the conductivity in the site file");
  CHECK_THAT(tighter[0].site.soils[0].tight_conductivity.likely, WithinRel(1e-8 / 3, 1e-12));
  CHECK_THAT(tighter[1].site.soils[0].conductivity.likely, WithinRel(1e-6 / 9, 1e-12));
  CHECK_THAT(tighter[0].design.runs[0].cap.conductivity, WithinRel(1e-6 / 3, 1e-9)); // sod is that topsoil
  // A band of something else leaves both as single figures.
  soil.depth = {0.2, 0.3, 0.4};
  tighter = named(yard, "the soil is tighter than thought");
  CHECK_THAT(tighter[0].site.soils[0].tight_conductivity.likely, WithinRel(1e-8 / 3, 1e-12));
  CHECK(tighter[0].severity == "a third of the conductivity in the site file");
  soil.tight_conductivity = {2e-9, 1e-8, 1e-7};
  tighter = named(yard, "the soil is tighter than thought");
  CHECK(tighter[0].site.soils[0].tight_conductivity.likely == 2e-9);
  CHECK_THAT(tighter[0].site.soils[0].conductivity.likely, WithinRel(1e-6 / 3, 1e-12));
  CHECK(tighter[0].severity == "at the low end of its bands, a third where there is one figure");
  soil.conductivity = {2e-7, 1e-6, 5e-6};
  CHECK(named(yard, "the soil is tighter than thought")[1].severity == "a third of the low end");
}

TEST_CASE("only an outlet with a free end can be blocked") {
  SimpleYard yard = drained();
  CHECK(named(yard, "the outlet is blocked").size() == 1);
  yard.site.designs[0].outlets[0].pump_rate = 5e-4;
  yard.site.designs[0].outlets[0].pump_on = 0.3;
  yard.site.designs[0].outlets[0].pump_off = 0.1;
  for (const char* kind : {"dry well", "pump"}) {
    yard.site.designs[0].outlets[0].kind = kind;
    yard.site.designs[0].outlets[0].well = {0.5, 2.8, 1.2, 0.4, 1e-6};
    CHECK(named(yard, "the outlet is blocked").empty());
  }
}
