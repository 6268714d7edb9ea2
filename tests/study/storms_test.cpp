#include "catch.hpp"
#include "slow_bowl.hpp"

#include <cmath>
#include <filesystem>
#include <fstream>

#include <lowspot/study/storms.hpp>

using namespace lowspot;

namespace {
SimpleYard bowl() {
  SimpleYard yard = slow_bowl();
  site::Soil& soil = yard.site.soils[0];
  soil.depth = {0.1, 0.1, 0.1};
  soil.conductivity = {1e-5, 1e-5, 1e-5};
  soil.tight_conductivity = {1e-7, 3e-7, 9e-7};
  return yard;
}
} // namespace

TEST_CASE("the depth at which hours reach the target lies straight between two storms") {
  const std::vector<double> depths{0.02, 0.04, 0.08};
  CHECK_THAT(study::failing_depth(depths, {4, 8, 40}, {1, 1, 0}, 24), WithinAbs(0.06, 1e-12));
  CHECK_THAT(study::failing_depth(depths, {4, 28, 40}, {1, 0, 0}, 24),
             WithinAbs(0.02 + 0.02 * 20 / 24, 1e-12));
  // A run of 12 hours that still stands as it ends: half way, not at the storm that is known to fail.
  CHECK_THAT(study::failing_depth(depths, {4, 12, 12}, {1, 0, 0}, 24), WithinAbs(0.03, 1e-12));
  CHECK(std::isinf(study::failing_depth(depths, {4, 8, 10}, {1, 1, 1}, 24)));
  CHECK(study::failing_depth(depths, {30, 40, 50}, {0, 0, 0}, 24) == 0);
}

TEST_CASE("heavier storms stand longer; a share of the site's own storm where there is no table") {
  const SimpleYard yard = bowl();
  study::ThreadExecutor executor(2);
  study::StormOptions options;
  options.draws = 3;
  const study::StormStudy all = study::run_storms(yard.site, yard.ground, executor, options);
  REQUIRE(all.levels.size() == 7);
  CHECK_THAT(all.levels[0].depth, WithinRel(0.25 * 0.036, 1e-12));
  CHECK_THAT(all.levels[3].depth, WithinRel(0.036, 1e-12));
  CHECK_FALSE(std::isfinite(all.levels[0].return_period));
  REQUIRE(all.curves.size() == 1);
  const study::StormCurve& curve = all.curves[0];
  for (std::size_t k = 1; k < 7; ++k) CHECK(curve.hours[k] >= curve.hours[k - 1]);
  for (std::size_t k = 0; k < 7; ++k) {
    CHECK(curve.p10[k] <= curve.p90[k]);
    if (curve.works[k] == 1) CHECK_FALSE(curve.p90_open[k]);
    CHECK((curve.met[k] != 0) == (curve.hours[k] <= 12 && !curve.open[k]));
  }
  REQUIRE(std::isfinite(curve.fails_at));
  CHECK(curve.fails_at > all.levels[0].depth);
  CHECK_THAT(all.sentences[0], ContainsSubstring("As it is, the yard meets the target up to about"));
}

TEST_CASE("a band over soils whose water outlasts the run is open at its upper end") {
  SimpleYard yard = bowl();
  yard.site.storm.dry = 2 * 3600.0;
  study::ThreadExecutor executor(2);
  study::StormOptions options;
  options.draws = 3;
  const study::StormCurve curve = study::run_storms(yard.site, yard.ground, executor, options).curves[0];
  CHECK(curve.open.back());
  CHECK(curve.p90_open.back());
}

TEST_CASE("a band is open where a soil that had not ended has a part in its upper end") {
  SimpleYard yard = bowl();
  yard.site.storm.dry = 2000 * 3600.0;
  study::ThreadExecutor executor(2);
  study::StormOptions options;
  options.draws = 10;
  const study::StormCurve whole = study::run_storms(yard.site, yard.ground, executor, options).curves[0];
  REQUIRE_FALSE(whole.p90_open.back());
  // P90 lies half way between the ninth soil and the tenth, which then has not ended.
  yard.site.storm.dry = 3600 * (whole.p90.back() * 1.02);
  const study::StormCurve cut = study::run_storms(yard.site, yard.ground, executor, options).curves[0];
  CHECK(cut.p90.back() < whole.p90.back());
  CHECK(cut.p90_open.back());
}

TEST_CASE("a yard without areas whose water outlasts the run does not meet the target") {
  SimpleYard yard = bowl();
  yard.site.areas.clear();
  yard.ground.areas.clear();
  yard.site.storm.dry = 2 * 3600.0; // of a target of 12
  yard.site.soils[0].tight_conductivity = {0, 0, 0};
  study::ThreadExecutor executor(2);
  const study::StormStudy all = study::run_storms(yard.site, yard.ground, executor, {});
  const study::StormCurve& curve = all.curves[0];
  CHECK(curve.place.back() == "the wettest spot");
  CHECK(curve.hours.back() < 12);
  CHECK(curve.open.back());
  CHECK_FALSE(curve.met.back());
}

TEST_CASE("storms that are stopped answer with the lighter ones that are finished") {
  const SimpleYard yard = bowl();
  study::ThreadExecutor executor(1);
  study::StormOptions options;
  options.keep_finished = true;
  options.progress = [](double share) { return share < 0.5; };
  const study::StormStudy part = study::run_storms(yard.site, yard.ground, executor, options);
  options.progress = {};
  const study::StormStudy whole = study::run_storms(yard.site, yard.ground, executor, options);
  REQUIRE(part.levels.size() == 3);
  REQUIRE(whole.levels.size() == 7);
  for (std::size_t k = 0; k < 3; ++k) CHECK(part.curves[0].hours[k] == whole.curves[0].hours[k]);
  CHECK(part.sentences.size() == whole.sentences.size());
  CHECK(part.sentences[0].rfind("Stopped by you after 3 of 7 storms.", 0) == 0);
  options.progress = [](double) { return false; };
  CHECK_THROWS_AS(study::run_storms(yard.site, yard.ground, executor, options), study::Stopped);
}

TEST_CASE("each return period of a table has its own depth, whatever depth the site's storm has") {
  SimpleYard yard = bowl();
  yard.site.folder = std::filesystem::temp_directory_path();
  std::ofstream(yard.site.folder / "lowspot_storms_table.csv")
      << "duration_min,rp_2yr,rp_10yr\n5,0.46,0.63\n60,1.44,2.14\n360,2.15,3.21\n";
  yard.site.storm = {};
  yard.site.storm.table = "lowspot_storms_table.csv";
  yard.site.storm.return_period = 10;
  yard.site.storm.duration = 3600;
  yard.site.storm.depth = 0.0254;
  const std::vector<study::StormLevel> levels = study::storm_levels(yard.site);
  REQUIRE(levels.size() == 3);
  CHECK_THAT(levels[0].depth, WithinRel(1.44 * 0.0254, 1e-9));
  CHECK_THAT(levels[2].depth, WithinRel(2.14 * 0.0254, 1e-9));
}
