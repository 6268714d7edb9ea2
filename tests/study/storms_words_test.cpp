#include "catch.hpp"

#include <limits>

#include <nlohmann/json.hpp>

#include <lowspot/study/storms_words.hpp>

using namespace lowspot;

namespace {
study::StormStudy sample() {
  study::StormStudy all;
  all.levels = {{2, 0.05, 1e-5, {}}, {100, 0.13, 3e-5, {}}};
  all.clear_within = 86400;
  study::StormCurve curve;
  curve.design = "drain \"A\"";
  curve.hours = {3, 50};
  curve.place = {"bed", "bed"};
  curve.open = {0, 1};
  curve.met = {1, 0};
  curve.fails_at = 0.08;
  curve.fails_period = 12.3;
  all.curves = {curve};
  return all;
}
} // namespace

TEST_CASE("a curve in a sentence, whichever way it ends") {
  site::Site site;
  site.units = "ft";
  study::StormStudy all = sample();
  CHECK(study::storm_sentence(all.curves[0], all, site) ==
        "'drain \"A\"' meets the target up to about 3.1 in of rain, about the 12-year storm. In the 100-year "
        "storm "
        "(5.12 in), 'bed' stands more than about 50 hours after the rain.");
  all.curves[0].fails_at = std::numeric_limits<double>::infinity();
  CHECK_THAT(study::storm_sentence(all.curves[0], all, site), ContainsSubstring("in every storm tried"));
  all.curves[0].hours[1] = 0;
  all.curves[0].place[1] = "the wettest spot";
  CHECK_THAT(study::storm_sentence(all.curves[0], all, site), // the run ends with the rain
             ContainsSubstring("): the wettest spot stands as long as it is followed."));
  all.curves[0].open[1] = 0;
  CHECK_THAT(study::storm_sentence(all.curves[0], all, site),
             ContainsSubstring("stands only while it rains."));
  all.curves[0].hours[1] = 50;
  all.curves[0].open[1] = 1;
  all.curves[0].fails_at = 0;
  CHECK_THAT(study::storm_sentence(all.curves[0], all, site),
             ContainsSubstring("fails already in the smallest storm tried, the 2-year storm"));
}

TEST_CASE("where beds were promised something, a storm is said to keep only what is judged of it") {
  site::Site site;
  site.units = "ft";
  study::StormStudy all = sample();
  CHECK_THAT(study::storms_method(all, site), !ContainsSubstring("beds"));
  site.target.soggy_hours_limit = 48 * 3600.0;
  CHECK_THAT(study::storm_sentence(all.curves[0], all, site),
             ContainsSubstring("meets the target for standing water up to about 3.1 in of rain"));
  all.curves[0].fails_at = std::numeric_limits<double>::infinity();
  CHECK_THAT(study::storm_sentence(all.curves[0], all, site),
             ContainsSubstring("meets the target for standing water in every storm tried"));
  CHECK_THAT(study::storms_method(all, site), ContainsSubstring("The beds are not judged here"));
}

TEST_CASE("for scripts: what is not finite is null or empty, quotes survive") {
  study::StormStudy all = sample();
  all.sentences = {"so"};
  all.levels[1].return_period = std::numeric_limits<double>::quiet_NaN();
  const auto json = nlohmann::json::parse(study::storms_json(all, "yard", "1"));
  CHECK(json["storms"][1]["return_period_years"].is_null());
  CHECK(json["designs"][0]["name"] == "drain \"A\"");
  CHECK(json["designs"][0]["storms"][1]["open_ended"] == true);
  CHECK_THAT(study::storms_csv(all), ContainsSubstring("\"drain \"\"A\"\"\",2,0.05,3,no,yes,,,\n"));
}

TEST_CASE("a band that had not ended with the simulated time is marked so") {
  study::StormStudy all = sample();
  all.sentences = {"so"};
  all.curves[0].p10 = {2, 30}, all.curves[0].p90 = {4, 60}, all.curves[0].works = {1, 0};
  all.curves[0].p90_open = {0, 1};
  const auto json = nlohmann::json::parse(study::storms_json(all, "yard", "1"));
  CHECK(json["designs"][0]["storms"][0]["p90_open_ended"] == false);
  CHECK(json["designs"][0]["storms"][1]["p90_open_ended"] == true);
  CHECK_THAT(study::storms_csv(all), ContainsSubstring(",2,4,no\n") && ContainsSubstring(",30,60,yes\n"));
}

TEST_CASE("what runs in over the edges is not scaled with the storm, and that is said") {
  site::Site site;
  site.units = "ft";
  const study::StormStudy all = sample();
  CHECK_THAT(study::storms_method(all, site), !ContainsSubstring("over the edges"));
  site.edges.inflows = {{{{0, 0}, {1, 0}}, {0}, {1e-3}, "swale"}};
  CHECK_THAT(study::storms_method(all, site), ContainsSubstring("over the edges is that of the site file"));
}

TEST_CASE("a storm that is named by its depth is not given its depth again") {
  site::Site site;
  site.units = "ft";
  study::StormStudy all = sample();
  for (study::StormLevel& level : all.levels) level.return_period = std::numeric_limits<double>::quiet_NaN();
  study::StormCurve& curve = all.curves[0];
  curve.fails_period = std::numeric_limits<double>::quiet_NaN();
  CHECK_THAT(study::storm_sentence(curve, all, site), ContainsSubstring("In 5.12 in of rain, 'bed'"));
  curve.fails_at = 0;
  CHECK_THAT(study::storm_sentence(curve, all, site),
             ContainsSubstring("smallest storm tried, 1.97 in of rain: 'bed'"));
  curve.fails_at = std::numeric_limits<double>::infinity();
  CHECK_THAT(study::storm_sentence(curve, all, site), ContainsSubstring("up to 5.12 in of rain: 'bed'"));
}
