#include "catch.hpp"

#include <limits>

#include <nlohmann/json.hpp>

#include <lowspot/results/summary_json.hpp>

#include "results/sample_comparison.hpp"

using namespace lowspot::results;

namespace {
// Keys in the order written.
std::vector<std::string> keys(const nlohmann::ordered_json& object) {
  std::vector<std::string> names;
  for (const auto& item : object.items()) names.push_back(item.key());
  return names;
}
void require_keys(const nlohmann::ordered_json& object, const std::vector<std::string>& names) {
  for (const std::string& name : names) {
    INFO(name);
    CHECK(object.contains(name));
  }
}
} // namespace

TEST_CASE("the summary has the keys that scripts rely on") {
  const auto json = nlohmann::ordered_json::parse(summary_json(sample::comparison()));
  CHECK(keys(json).front() == "schema");
  require_keys(json, {"schema", "version", "site", "warnings", "defaults", "storm", "designs", "verdict"});
  require_keys(json["storm"], {"depth_m", "duration_s", "peak_intensity_m_per_s"});
  require_keys(json["defaults"][0], {"key", "value", "tag"});
  require_keys(json["verdict"], {"design", "target_met", "limited_by", "sentence"});
  REQUIRE(json["designs"].size() == 2);
  const auto& design = json["designs"][1];
  CHECK(design["name"] == "3 in along the patio");
  require_keys(design["ledger"],
               {"rain_m3", "inflow_m3", "left_over_edges_m3", "left_by_drains_m3", "deep_leakage_m3",
                "evapotranspiration_m3", "infiltrated_m3", "stored_start_m3", "stored_end_m3", "closure_m3"});
  require_keys(design["areas"][0], {"name", "max_depth_m", "peak_volume_m3", "standing_hours_after_rain",
                                    "standing_area_m2", "clear_within_target"});
  require_keys(design["gauges"][0], {"name", "max_depth_m", "time_of_max_s", "standing_hours_after_rain"});
  require_keys(design["lines"][0], {"name", "peak_flow_m3_per_s", "volume_m3"});
  require_keys(design["edges"][0], {"side", "peak_flow_m3_per_s", "volume_m3"});
  require_keys(design["low_spots"][0],
               {"id", "at", "depth_m", "area_m2", "volume_m3", "spill_at", "catchment_m2", "rain_to_fill_m"});
  require_keys(design["drains"][0], {"name", "peak_flow_m3_per_s", "full_flow_capacity_m3_per_s",
                                     "surcharged_s", "volume_out_m3", "limited_by"});
  require_keys(design["beds"][0],
               {"name", "soggy_hours", "days_below_half_available_water", "lowest_available_fraction"});
  require_keys(design["run"], {"cells", "steps", "wall_s"});
}

TEST_CASE("what had not ended with the simulated time is marked so") {
  auto all = sample::comparison();
  all.designs[1].gauges.front().still_standing = true;
  all.designs[1].beds.front().still_soggy = true;
  all.designs[1].beds.front().spell_open = true;
  const auto json = nlohmann::ordered_json::parse(summary_json(all));
  CHECK(json["designs"][1]["gauges"][0]["still_standing"] == true);
  CHECK(json["designs"][1]["beds"][0]["still_soggy"] == true);
  CHECK(json["designs"][1]["beds"][0]["longest_soggy_open_ended"] == true);
  CHECK(json["designs"][0]["gauges"][0]["still_standing"] == all.designs[0].gauges.front().still_standing);
}

TEST_CASE("the summary holds the figures of the record") {
  const auto all = sample::comparison();
  const auto json = nlohmann::ordered_json::parse(summary_json(all));
  CHECK(json["storm"]["depth_m"].get<double>() == all.storm_depth);
  CHECK(json["designs"][0]["areas"][1]["standing_hours_after_rain"].get<double>() ==
        all.designs[0].areas[1].standing_hours_after_rain);
  CHECK(json["designs"][0]["drains"].is_array());
  CHECK(json["designs"][0]["drains"].empty());
  CHECK(json["designs"][0]["low_spots"][0]["at"][0].get<double>() == all.low_spots[0].at.x);
  // 60 x 40 cells less the house, 38 x 6 of them.
  CHECK(json["designs"][0]["run"]["cells"] == 60 * 40 - 38 * 6);
  CHECK(json["verdict"]["target_met"] == true);
}

TEST_CASE("depth and duration of the storm are both of all of the rain") {
  Comparison all = sample::comparison();
  all.storm_depth = 0.0508; // an inch in an hour, and after a day and a half of none another in three
  all.storm_duration = 3600;
  all.end_of_rain = 40 * 3600;
  const auto storm = nlohmann::json::parse(summary_json(all))["storm"];
  CHECK(storm["depth_m"] == 0.0508);
  CHECK(storm["duration_s"] == 40 * 3600);
}

TEST_CASE("what is not a finite number becomes null, and broken text is mended") {
  auto all = sample::comparison();
  all.low_spots[0].rain_to_fill = std::numeric_limits<double>::infinity();
  all.designs[0].beds[0].lowest_available_fraction = std::numeric_limits<double>::quiet_NaN();
  all.site_name = "caf\xe9 \"yard\"\n";
  const auto json = nlohmann::ordered_json::parse(summary_json(all));
  CHECK(json["designs"][0]["low_spots"][0]["rain_to_fill_m"].is_null());
  CHECK(json["designs"][0]["beds"][0]["lowest_available_fraction"].is_null());
  CHECK(json["site"].get<std::string>().find("\"yard\"\n") != std::string::npos);
}
