#include <lowspot/results/target.hpp>

#include "catch.hpp"

using namespace lowspot;
using results::Promise;

namespace {
results::Comparison agreed() {
  results::Comparison all;
  all.clear_within = 24 * 3600;
  results::DesignRecord as_is;
  as_is.name = "as is";
  results::AreaRecord lawn;
  lawn.name = "lawn";
  lawn.standing_hours_after_rain = 30;
  lawn.clear_within_target = false;
  as_is.areas = {lawn};
  results::BedRecord bed;
  bed.name = "bed";
  bed.soggy_hours = 50;
  bed.days_below_half_available_water = 4;
  as_is.beds = {bed};
  results::DesignRecord drained = as_is;
  drained.name = "drain";
  drained.areas[0].standing_hours_after_rain = 3;
  drained.areas[0].clear_within_target = true;
  drained.beds[0].soggy_hours = 20;
  drained.beds[0].days_below_half_available_water = 5;
  all.designs = {as_is, drained};
  return all;
}
} // namespace

TEST_CASE("without promises for the beds only standing water is judged") {
  const results::Comparison all = agreed();
  CHECK_FALSE(results::meets_target(all, all.designs[0]));
  CHECK(results::meets_target(all, all.designs[1]));
  REQUIRE(results::judge(all, all.designs[1]).size() == 1);
  CHECK(results::misses(all, all.designs[0])[0].found == 30 * 3600.0);
}

TEST_CASE("a bed that drowns, and one that a drain makes thirsty") {
  results::Comparison all = agreed();
  all.soggy_limit = 36 * 3600;
  CHECK(results::misses(all, all.designs[0]).size() == 2);
  CHECK(results::meets_target(all, all.designs[1]));
  all.dry_beyond = 0;
  const auto thirsty = results::misses(all, all.designs[1]);
  REQUIRE(thirsty.size() == 1);
  CHECK(thirsty[0].promise == Promise::dry_bed);
  CHECK(thirsty[0].place == "bed");
  CHECK_THAT(thirsty[0].limit, WithinRel(4 * 86400.0));
  all.dry_beyond = 86400; // a day more was agreed
  CHECK(results::meets_target(all, all.designs[1]));
  all.dry_beyond = std::nan("");
  all.dry_limit = 4.5 * 86400; // in all
  CHECK_FALSE(results::meets_target(all, all.designs[1]));
  CHECK(results::misses(all, all.designs[0]).size() == 2);
}

TEST_CASE("dry days are those of the season where there is one") {
  results::Comparison all = agreed();
  all.dry_beyond = 0;
  for (results::DesignRecord& design : all.designs) design.season_beds = design.beds;
  all.designs[0].season_beds[0].days_below_half_available_water = 20;
  all.designs[1].season_beds[0].days_below_half_available_water = 19;
  CHECK(results::meets_target(all, all.designs[1]));
}

TEST_CASE("a yard without judged areas is judged by its wettest spot") {
  results::Comparison all = agreed();
  all.designs[0].areas.clear();
  all.designs[0].standing_hours = {0, 3, 25};
  CHECK(results::longest_standing_hours(all.designs[0], 0) == 25);
  CHECK_FALSE(results::meets_target(all, all.designs[0]));
  all.designs[0].standing_hours = {0, 3, 23};
  CHECK(results::meets_target(all, all.designs[0]));
  // Twelve dry hours were simulated of a target of 24: what is still there then has not been shown to go.
  all.designs[0].standing_hours = {0, 3, 12};
  all.designs[0].still_standing = true;
  REQUIRE_FALSE(results::meets_target(all, all.designs[0]));
  CHECK(results::misses(all, all.designs[0])[0].open_ended);
  CHECK(results::misses(all, all.designs[0])[0].place == "the wettest spot");
}

TEST_CASE("a bed that is still soggy when the simulated time ends has not kept what was agreed") {
  results::Comparison all = agreed();
  all.soggy_limit = 36 * 3600;
  all.designs[1].beds[0].soggy_hours = 24; // of a run of 30
  CHECK(results::meets_target(all, all.designs[1]));
  all.designs[1].beds[0].still_soggy = true;
  const auto missed = results::misses(all, all.designs[1]);
  REQUIRE(missed.size() == 1);
  CHECK(missed[0].promise == Promise::soggy_bed);
  CHECK(missed[0].open_ended);
  CHECK(missed[0].found == 24 * 3600.0);
}

TEST_CASE("a run shorter than the dry time agreed shows nothing of a bed that has dried") {
  results::Comparison all = agreed();
  all.dry_limit = 10 * 86400;
  all.designs[1].time = {0, 6 * 86400.0}; // dry on five of six days
  REQUIRE(results::misses(all, all.designs[1]).size() == 1);
  CHECK(results::misses(all, all.designs[1])[0].open_ended);
  all.designs[1].time.back() = 10 * 86400.0;
  CHECK(results::meets_target(all, all.designs[1]));
  all.designs[1].time.back() = 6 * 86400.0;
  all.designs[1].beds[0].days_below_half_available_water = 0;
  CHECK(results::meets_target(all, all.designs[1]));
  // A season is the spell that was agreed on, however long.
  all.designs[1].beds[0].days_below_half_available_water = 5;
  all.designs[1].season_beds = all.designs[1].beds;
  CHECK(results::meets_target(all, all.designs[1]));
}

TEST_CASE("the wettest spot is judged by the last moment that it stood, as an area is") {
  results::Comparison all = agreed();
  results::DesignRecord& yard = all.designs[0];
  yard.areas.clear();
  all.end_of_rain = 2 * 3600;
  // Ten hours of puddle, and water again from hour 20 to 30 after the rain.
  yard.standing_hours = {1, 20};
  yard.last_standing = {3 * 3600.0, 32 * 3600.0};
  CHECK(results::longest_standing_hours(yard, all.end_of_rain) == 30);
  CHECK_FALSE(results::clears(yard, 24 * 3600, all.end_of_rain));
  CHECK_FALSE(results::meets_target(all, yard));
  yard.last_standing = {3600.0, 0}; // gone before the rain was over
  CHECK(results::longest_standing_hours(yard, all.end_of_rain) == 0);
}

TEST_CASE("how long each judged area stands, and which stands longest") {
  results::DesignRecord design = agreed().designs[0];
  design.standing_hours = {100};
  results::AreaRecord pond = design.areas[0], shed = pond;
  pond.name = "pond", pond.standing_hours_after_rain = 12, pond.still_standing = true;
  shed.name = "shed", shed.judged = false, shed.standing_hours_after_rain = 90;
  design.areas.push_back(pond);
  design.areas.push_back(shed);
  const auto places = results::standing_of(design, 86400, 0);
  REQUIRE(places.size() == 2);
  CHECK(places[0].hours == 30);
  CHECK_FALSE(places[0].met);
  CHECK(places[1].still);
  CHECK(results::longest_standing(design, 86400, 0).place ==
        "pond"); // it may stand for much longer than 30 h
  CHECK(results::longest_standing_hours(design, 0) == 30);
  CHECK_FALSE(results::clears(design, 86400, 0));
  design.areas = {shed};
  CHECK(results::longest_standing(design, 86400, 0).hours == 100);
  CHECK(results::clears(design, 100 * 3600, 0));
}
