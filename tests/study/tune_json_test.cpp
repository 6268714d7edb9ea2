#include <lowspot/study/tune_json.hpp>

#include "catch.hpp"
#include "report/sample_tuning.hpp"

#include <nlohmann/json.hpp>

using namespace lowspot;

TEST_CASE("a search as JSON: the answer, the error of the quick look, every combination") {
  const nlohmann::json json = nlohmann::json::parse(study::tune_json(sample::tuning(), "the answer"));
  CHECK(json["schema"] == "lowspot-tune-1");
  CHECK(json["sentence"] == "the answer");
  CHECK(json["smallest"] == "16 in deep; open stone");
  CHECK(json["quick_look"]["largest_error_standing_s"] == 5400);
  REQUIRE(json["combinations"].size() == 5);
  CHECK(json["combinations"][2]["works"] == true);
  CHECK(json["combinations"][2]["full"]["standing_hours"] == 6);
  CHECK(json["combinations"][1]["promises"][0]["kept"] == false);
  CHECK(json["combinations"][4]["refused"]["limit"] == "fall");
  CHECK(json["combinations"][4]["full"].is_null());
  CHECK(json["combinations"][4]["cost"].is_null());
}
