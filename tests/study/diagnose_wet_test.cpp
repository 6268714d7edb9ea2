#include <lowspot/study/diagnose_wet.hpp>

#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/study/diagnose.hpp>
#include <lowspot/study/diagnosis_json.hpp>

using namespace lowspot;

TEST_CASE("a diagnosis with its storm run says where the water comes from and what was seen") {
  SimpleYard yard = simple_yard(
      12, 8, 0.5, [](double x, double y) { return 0.01 * ((x - 3) * (x - 3) + (y - 2) * (y - 2)); });
  make_pervious(yard);
  add_whole_area(yard, "lawn");
  yard.site.storm.pattern = "blocks";
  yard.site.storm.blocks = {{3600, 1e-5}};
  yard.site.storm.dry = 86400;
  yard.site.designs = {simple_drain(yard)};
  site::Seen seen;
  seen.name = "March";
  seen.area = "lawn";
  seen.rain = 0.03;
  seen.rain_duration = 3600;
  seen.lasted = 1800;
  yard.site.seen = {seen};
  study::Diagnosis diagnosis = study::diagnose(yard.site, yard.ground);
  study::diagnose_wet(diagnosis, yard.site, yard.ground, yard.ground);
  REQUIRE(diagnosis.yard.designs.size() == 1); // designs are not run
  CHECK(diagnosis.yard.designs[0].name == "as is");
  REQUIRE(diagnosis.wet_places.size() == 2); // the lawn and its one low spot
  CHECK(diagnosis.wet_places[1].wet != study::Wet::no);
  REQUIRE(diagnosis.seen.size() == 1);
  CHECK(diagnosis.seen[0].rain_explains);
  const std::string json = study::diagnosis_json(diagnosis);
  CHECK_THAT(json, ContainsSubstring("\"wet_places\"") && ContainsSubstring("\"rain on lawn\"") &&
                       ContainsSubstring("\"rain_explains\": true"));
}
