#include <lowspot/results/check_json.hpp>

#include "catch.hpp"

using namespace lowspot::results;

TEST_CASE("a check is written whole; what has no figure is null") {
  CheckRecord record;
  record.id = "frost";
  record.missing = "how deep it freezes";
  CheckRecord kept;
  kept.id = "pipe_cover";
  kept.outcome = CheckOutcome::pass;
  kept.found_value = 0.2;
  kept.limit_value = 0.15;
  kept.of_works = false;
  const auto json = checks_json({record, kept});
  REQUIRE(json.size() == 2);
  CHECK(json[0]["outcome"] == "unknown");
  CHECK(json[0]["found_si"].is_null());
  CHECK(json[0]["missing"] == "how deep it freezes");
  CHECK(json[1]["outcome"] == "pass");
  CHECK(json[1]["found_si"] == 0.2);
  CHECK(json[1]["of_works"] == false);
  CHECK(checks_json({}).is_array());
}
