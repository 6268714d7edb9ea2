#include "catch.hpp"
#include "slow_bowl.hpp"

#include <lowspot/study/compare.hpp>
#include <lowspot/study/plausible.hpp>

using namespace lowspot;

namespace {
// A bowl whose tight layer decides how long it stands.
SimpleYard bowl() {
  SimpleYard yard = slow_bowl();
  site::Soil& soil = yard.site.soils[0];
  soil.depth = {0.09, 0.1, 0.11};
  soil.conductivity = {1e-6, 1e-5, 1e-4};
  soil.tight_conductivity = {3e-8, 3e-7, 3e-6};
  return yard;
}

results::PlausibleStudy study_of(const SimpleYard& yard, int threads, std::uint64_t seed, int draws,
                                 const results::Comparison* main = nullptr) {
  study::ThreadExecutor executor(threads);
  study::PlausibleOptions options;
  options.draws = draws;
  options.seed = seed;
  return study::plausible_soils(yard.site, yard.ground, main, executor, options);
}
} // namespace

TEST_CASE("the draws of a bowl: bands in order, the tight layer decides, the answer flips on it") {
  const SimpleYard yard = bowl();
  const results::PlausibleStudy all = study_of(yard, 2, 1, 16);
  REQUIRE(all.draws == 16);
  REQUIRE(all.inputs.size() == 3);
  REQUIRE(all.designs.size() == 1);
  const results::PlausibleFigure& hours = all.figures.front();
  CHECK(hours.what == "standing_hours");
  CHECK(hours.p10 < hours.p50);
  CHECK(hours.p50 < hours.p90);
  CHECK(hours.shares[2].share > 0.6);
  CHECK(hours.shares[2].partial < -0.8);
  const results::PlausibleDesign& as_is = all.designs.front();
  CHECK(as_is.count > 0);
  CHECK(as_is.count < 16);
  CHECK_THAT(as_is.share, WithinAbs(as_is.count / 16.0, 1e-12));
  CHECK(as_is.flip.input == 2);
  CHECK(as_is.flip.works_above);
  bool hole_next = false;
  for (const results::NextTest& test : all.tests) hole_next = hole_next || (test.next && test.input == 2);
  CHECK(hole_next);
  CHECK_THAT(all.sentence, ContainsSubstring("of 16 plausible soils"));
  CHECK_THAT(all.sentence, ContainsSubstring("conductivity of the tight layer is below"));
}

TEST_CASE("a band is open where the one soil in ten that had not ended has a part in its upper end") {
  SimpleYard yard = bowl();
  yard.site.storm.dry = 4000 * 3600.0;
  const results::PlausibleFigure whole = study_of(yard, 2, 1, 10).figures.front();
  CHECK_FALSE(whole.open_ended);
  std::vector<double> hours = whole.values;
  std::sort(hours.begin(), hours.end());
  REQUIRE(hours[9] > 1.5 * hours[8]);
  yard.site.storm.dry = 3600 * (0.1 * hours[8] + 0.9 * hours[9]); // ends between the last two
  const results::PlausibleFigure cut = study_of(yard, 2, 1, 10).figures.front();
  REQUIRE(std::count(cut.open.begin(), cut.open.end(), 1) == 1);
  CHECK(cut.p90 < whole.p90);
  CHECK(cut.open_ended);
}

TEST_CASE("the same seed gives the same answer whatever the threads; another seed another") {
  const SimpleYard yard = bowl();
  const auto one = study_of(yard, 1, 5, 6), three = study_of(yard, 3, 5, 6), other = study_of(yard, 2, 6, 6);
  REQUIRE(one.figures.size() == three.figures.size());
  for (std::size_t k = 0; k < one.figures.size(); ++k) {
    CHECK(one.figures[k].values == three.figures[k].values);
    CHECK(one.figures[k].p90 == three.figures[k].p90);
  }
  CHECK(one.sentence == three.sentence);
  CHECK(one.figures[0].values != other.figures[0].values);
}

TEST_CASE("hours are brought to those of the main run; no bands or no draws, no study") {
  SimpleYard yard = bowl();
  results::Comparison main = study::compare(yard.site, yard.ground, {});
  main.designs[0].areas[0].standing_hours_after_rain *= 1.25;
  const auto plain = study_of(yard, 2, 5, 4), raised = study_of(yard, 2, 5, 4, &main);
  REQUIRE(raised.figures[0].what == "standing_hours");
  CHECK_THAT(raised.figures[0].factor,
             WithinRel(main.designs[0].areas[0].standing_hours_after_rain / raised.figures[0].coarse, 1e-12));
  CHECK(raised.figures[0].factor > 1.1);
  for (int k = 0; k < 4; ++k)
    CHECK_THAT(
        raised.figures[0].values[k],
        WithinRel(plain.figures[0].values[k] * (plain.figures[0].open[k] ? 1 : raised.figures[0].factor),
                  1e-12));
  CHECK(study_of(yard, 1, 1, 0).draws == 0);
  for (site::Band* band :
       {&yard.site.soils[0].depth, &yard.site.soils[0].conductivity, &yard.site.soils[0].tight_conductivity})
    band->low = band->high = band->likely;
  CHECK(study_of(yard, 1, 1, 20).draws == 0);
}

TEST_CASE("soggy hours of beds are brought to those of the main run as well") {
  SimpleYard yard = bowl();
  yard.site.areas[0].plants = site::Plants{"shrubs", 0.1, 1.0, 0.5, "low"};
  yard.site.soils[0].tight_conductivity = {2e-6, 3e-6, 4e-6};
  results::Comparison main = study::compare(yard.site, yard.ground, {});
  results::BedRecord& bed = main.designs[0].beds.at(0);
  REQUIRE(bed.soggy_hours > 1);
  REQUIRE_FALSE(bed.still_soggy);
  yard.site.target.clear_within = 40 * 3600.0;
  yard.site.target.soggy_hours_limit = 1.5 * bed.soggy_hours * 3600;
  const int before = study_of(yard, 2, 5, 8, &main).designs[0].count;
  bed.soggy_hours *= 2;
  CHECK(study_of(yard, 2, 5, 8, &main).designs[0].count < before);
}

TEST_CASE("the cells of the draws grow with their number, within limits") {
  CHECK(study::draw_cell(0.15, 100000, 1) == 0.15);
  CHECK_THAT(study::draw_cell(0.1524, 16000, 20), WithinRel(0.1524 * std::sqrt(21 / 2.5), 1e-12));
  CHECK(study::draw_cell(0.1, 100000, 1000) == 0.4);
  CHECK_THAT(study::draw_cell(0.1, 4000, 20), WithinRel(0.2, 1e-12)); // a thousand cells are left
  CHECK(study::draw_cell(0.1, 300, 20) == 0.1);
}
