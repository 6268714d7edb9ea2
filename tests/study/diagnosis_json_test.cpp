#include "catch.hpp"

#include <nlohmann/json.hpp>

#include <lowspot/study/diagnosis_json.hpp>

using namespace lowspot;

TEST_CASE("a diagnosis as JSON: SI, names of units in the keys, no figure that is not finite") {
  study::Diagnosis diagnosis;
  diagnosis.yard.site_name = "yard \"7\" \xff";
  study::LowSpotDiagnosis low;
  low.spot.id = 1;
  low.spot.volume = 0.31;
  low.place = "long bed";
  low.covers = {{"patio", 21.5, true}, {"lawn", 4, false}};
  low.roofs = {{"house, west downspout", 39}};
  low.rain_to_fill = {0.002, 0.02, study::never};
  low.basins = {{}, {}};
  study::OutletRoute route;
  route.outlet = "south edge";
  route.reach = study::Reach::by_gravity;
  route.margin = 0.1;
  route.crosses = {{"patio", 2.5}};
  low.outlets = {route};
  diagnosis.low_spots = {low};
  diagnosis.heads = {{"drain", "leg", {1, 2}, 30.1, {route}}};
  const auto json = nlohmann::json::parse(study::diagnosis_json(diagnosis));
  CHECK(json["schema"] == "lowspot-diagnosis-1");
  const auto& spot = json["low_spots"][0];
  CHECK(spot["volume_m3"] == 0.31);
  CHECK(spot["covers"][0]["cover"] == "patio");
  CHECK(spot["covers"][0]["impervious"] == true);
  CHECK(spot["roofs"][0]["roof_m2"] == 39);
  CHECK(spot["rain_to_fill"]["as_it_starts_m"] == 0.02);
  CHECK(spot["rain_to_fill"]["wet_m"].is_null());
  CHECK(spot["basins"].size() == 2);
  CHECK(spot["outlets"][0]["reach"] == "by gravity");
  CHECK(spot["outlets"][0]["margin_m"] == 0.1);
  CHECK(spot["outlets"][0]["crosses"][0]["length_m"] == 2.5);
  CHECK(json["heads"][0]["at"][1] == 2);
}
