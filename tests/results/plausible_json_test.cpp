#include "catch.hpp"

#include <nlohmann/json.hpp>

#include <lowspot/results/plausible_json.hpp>

using namespace lowspot;

TEST_CASE("the band for scripts: null without draws, keys and lists by draw with them") {
  results::PlausibleStudy study;
  CHECK(results::plausible_json(study).is_null());
  study.draws = 2;
  study.seed = 9;
  results::PlausibleInput input;
  input.key = "soil.yard.tight_layer.conductivity";
  input.values = {1e-8, 1e-7};
  study.inputs = {input};
  study.weights = {1, 1};
  results::PlausibleDesign as_is;
  as_is.name = "as is";
  as_is.works = {0, 1};
  as_is.count = 1;
  as_is.share = 0.5;
  study.designs = {as_is};
  results::PlausibleFigure hours;
  hours.values = {3, 4};
  hours.open = {0, 1};
  hours.shares = {{0.7, -0.8}};
  study.figures = {hours};
  auto json = results::plausible_json(study);
  CHECK(json["seed"] == 9);
  CHECK(json["designs"][0]["works"] == 1);
  CHECK(json["designs"][0]["works_in"] == nlohmann::ordered_json::array({false, true}));
  CHECK(json["designs"][0]["flip"].is_null());
  CHECK(json["figures"][0]["main_run"].is_null());
  CHECK(json["figures"][0]["shares"][0]["input"] == input.key);
  CHECK(json["figures"][0]["open_ended"][1] == true);
  study.designs[0].flip = {0, 3e-8, true, 0};
  json = results::plausible_json(study);
  CHECK(json["designs"][0]["flip"]["input"] == input.key);
  CHECK(json["designs"][0]["flip"]["works"] == "above");
}
