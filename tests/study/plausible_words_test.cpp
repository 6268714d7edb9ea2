#include "catch.hpp"

#include <lowspot/study/plausible_words.hpp>

using namespace lowspot;

namespace {
results::PlausibleStudy sample() {
  results::PlausibleStudy all;
  all.draws = 20;
  all.weights.assign(20, 1.0);
  results::PlausibleInput input;
  input.name = "conductivity of the tight layer";
  input.dimension = Dimension::speed;
  all.inputs = {input};
  results::PlausibleDesign as_is, drain;
  as_is.name = "as is";
  drain.name = "drain", drain.count = 17, drain.share = 0.85;
  drain.flip = {0, 0.01237 * 0.0254 / 3600, true, 1};
  all.designs = {as_is, drain};
  results::PlausibleFigure before, after;
  before.design = "as is", before.what = "standing_hours", before.place = "bed";
  before.p10 = 20, before.p50 = 60, before.p90 = 168, before.open_ended = true;
  after = before;
  after.design = "drain", after.p10 = 2, after.p50 = 5, after.p90 = 26, after.open_ended = false;
  all.figures = {before, after};
  results::NextTest test;
  test.name = "a hole test", test.next = true, test.answer_now = 3.6, test.answer_then = 1.9;
  all.tests = {test};
  return all;
}
} // namespace

TEST_CASE("the band in plain words") {
  site::Site site;
  site.units = "ft";
  results::PlausibleStudy all = sample();
  CHECK(
      study::plausible_sentence(all, site, "drain") ==
      "'drain' meets the target in 17 of 20 plausible soils; it fails where the conductivity of the tight "
      "layer is "
      "below "
      "0.012 in/hr, with 1 exception among the soils. 'bed' stands about 2 hours to about 26 hours after the "
      "rain "
      "in eight soils of ten; as it is, about 20 hours to more than 7 days. The next cheapest test is a hole "
      "test: it would narrow the hours from within a factor of 3.6 to within 1.9.");
  results::PlausibleStudy passing = sample();
  passing.figures[1].p10 = passing.figures[1].p50 = passing.figures[1].p90 = 0;
  CHECK_THAT(study::plausible_sentence(passing, site, "drain"),
             ContainsSubstring("stands only while it rains in eight soils of ten"));
  passing.draws = 5;
  CHECK_THAT(study::plausible_sentence(passing, site, "drain"),
             ContainsSubstring("stands only while it rains in these soils"));
  all.weights[0] = 2;
  CHECK_THAT(study::plausible_sentence(all, site, "drain"),
             ContainsSubstring("17 of 20 plausible soils (85 % of their weight by what was seen)"));
  CHECK_THAT(study::plausible_sentence(all, site, ""),
             ContainsSubstring("As it is, the yard meets the target in 0 of 20"));
  CHECK(study::plausible_sentence(all, site, "no such design").empty());
  // The hours to narrow are then those of the yard as it is, which outlast the run.
  CHECK(study::hours_to_narrow(all, "drain")->design == "drain");
  CHECK(study::hours_to_narrow(all, "")->design == "as is");
  CHECK_THAT(study::plausible_sentence(all, site, ""),
             ContainsSubstring("test is a hole test: it would narrow the hours; by how much is not known") &&
                 !ContainsSubstring("3.6"));
  CHECK(study::hours_to_narrow(passing, "drain")->design == "as is");
  passing.figures[0].p10 = passing.figures[0].p90;
  CHECK(study::hours_to_narrow(passing, "drain") == nullptr);
  all.designs[1].flip.input = -1;
  CHECK(study::flip_phrase(all.designs[1], all, site).empty());
}

TEST_CASE("the band is told of the place that the yard is mended for, unless another stands longer then") {
  site::Site site;
  site.units = "ft";
  const auto told = [&](double longer) {
    results::PlausibleStudy all = sample();
    const std::vector<results::PlausibleFigure> beds = all.figures;
    for (results::PlausibleFigure figure : beds) {
      if (figure.what != "standing_hours") continue;
      figure.place = "patio";
      figure.open_ended = false;
      figure.p10 = figure.p50 = figure.p90 = figure.design == "as is" ? 0 : figure.p50 + longer;
      all.figures.push_back(figure);
    }
    return study::plausible_sentence(all, site, "drain");
  };
  CHECK_THAT(told(0.5), ContainsSubstring("'bed' stands about 2 hours to about 26 hours"));
  CHECK_THAT(told(3), ContainsSubstring("'patio' stands"));
}

TEST_CASE(
    "a place that the quick runs of the draws get wrong is named, once, with what they were made with") {
  results::Comparison main;
  site::Site site;
  main.grid.cell = 0.3048;
  const auto notes_of = [&](const results::PlausibleStudy& study) {
    return study::quick_run_notes(study, &main, site);
  };
  results::PlausibleStudy all = sample();
  all.cell = 0.6096;
  all.method = "routed";
  CHECK(notes_of(all).empty()); // no main run to compare with
  for (results::PlausibleFigure& figure : all.figures) figure.main = 60, figure.coarse = 50;
  CHECK(notes_of(all).empty());
  for (results::PlausibleFigure& figure : all.figures) figure.main = 0, figure.coarse = 0.9;
  CHECK(notes_of(all).empty());
  for (results::PlausibleFigure& figure : all.figures) figure.coarse = 4;
  const std::vector<std::string> notes = notes_of(all);
  REQUIRE(notes.size() == 1);
  CHECK_THAT(
      notes[0],
      ContainsSubstring(
          "'bed' (as is) stands about 4 hours in the likely soil, by the main run only while it rains") &&
          ContainsSubstring("cells of 24 in and water routed from pool to pool, the main run was made "
                            "with cells of 12 in and water followed as it flows") &&
          ContainsSubstring("Smaller cells"));
  // On the same cells it is the method alone, and no cells mend it.
  all.cell = 0.3048;
  CHECK_THAT(notes_of(all).at(0),
             ContainsSubstring("tried with water routed from pool to pool, the main run") &&
                 !ContainsSubstring("cells"));
  main.method = "routed";
  CHECK_THAT(notes_of(all).at(0), !ContainsSubstring("were tried with water"));
}

TEST_CASE("a band that its own main run lies outside is said not to be compared with it") {
  const site::Site site;
  results::PlausibleStudy study;
  results::PlausibleFigure days;
  days.design = "as is", days.what = "days_below_half", days.place = "roses", days.unit = "d";
  days.main = 9, days.coarse = 5, days.p10 = 4, days.p50 = 5, days.p90 = 6;
  study.figures = {days};
  const std::vector<std::string> notes = study::quick_run_notes(study, nullptr, site);
  REQUIRE(notes.size() == 1);
  CHECK_THAT(notes[0], ContainsSubstring("by quicker runs, not to be compared with the main run") &&
                           ContainsSubstring("of 'roses' (as is)"));
  study.figures[0].main = 6.2; // within what the slack of the figures allows
  CHECK(study::quick_run_notes(study, nullptr, site).empty());
}
