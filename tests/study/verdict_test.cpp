#include "catch.hpp"

#include <lowspot/study/verdict.hpp>

using namespace lowspot;

namespace {
results::DesignRecord design(const std::string& name, double hours, double limit) {
  results::DesignRecord record;
  record.name = name;
  record.time = {0, 8 * 86400.0};
  results::AreaRecord bed;
  bed.name = "bed";
  bed.standing_hours_after_rain = hours;
  bed.clear_within_target = hours <= limit;
  record.areas = {bed};
  return record;
}
results::Comparison comparison(std::initializer_list<double> hours) {
  results::Comparison result;
  result.clear_within = 86400;
  int k = 0;
  for (double value : hours) {
    result.designs.push_back(design(k == 0 ? "as is" : "design " + std::to_string(k), value, 24));
    ++k;
  }
  return result;
}
} // namespace

TEST_CASE("the first design that meets the target is recommended, not the strongest") {
  results::Comparison three = comparison({80, 40, 20, 2});
  results::DrainRecord run{"leg", 0.0004, 0.001, 0, 1.0, "cap", {{"cap", 5.0}}};
  three.designs[2].drains = {run};
  const results::Verdict verdict = study::make_verdict(three);
  CHECK(verdict.design == "design 2");
  CHECK(verdict.target_met);
  CHECK(verdict.limited_by == "cap");
  CHECK_THAT(verdict.sentence, ContainsSubstring("'design 2' is enough"));
  CHECK_THAT(verdict.sentence, ContainsSubstring("40 %"));
  CHECK_THAT(verdict.sentence, ContainsSubstring("the cap"));
}

TEST_CASE(
    "the place that misses the target with the best design is named, not the one that is worst as it is") {
  results::Comparison two = comparison({80, 3});
  for (results::DesignRecord& one : two.designs) {
    one.areas.push_back(one.areas.front());
    one.areas.back().name = "patio";
    one.areas.back().standing_hours_after_rain = 40;
    one.areas.back().clear_within_target = false;
  }
  const std::string said = study::make_verdict(two).sentence;
  CHECK_THAT(said, ContainsSubstring("No design meets the target of about 24 hours. With the best of them, "
                                     "'design 1', 'patio' stands about 40 hours after the rain; as it is, it "
                                     "stands about 40 hours after the rain."));
}

TEST_CASE("a design whose works do not keep their limits is not called enough") {
  results::Comparison three = comparison({80, 20, 2});
  results::CheckRecord deep;
  deep.id = "trench_depth";
  deep.name = "Depth of the trench";
  deep.about = "main";
  deep.outcome = results::CheckOutcome::fail;
  three.designs[1].checks = {deep};
  std::string said = study::make_verdict(three).sentence;
  CHECK(said.rfind("'design 1' moves the water, but 1 limit is not kept: Depth of the trench (main). "
                   "'design 2' moves it, too, and keeps them all.",
                   0) == 0);
  CHECK_THAT(said, !ContainsSubstring("enough"));
  three.designs[2].checks = {deep};
  said = study::make_verdict(three).sentence;
  CHECK_THAT(said,
             ContainsSubstring("(main). With it, 'bed' stands") && !ContainsSubstring("keeps them all"));
  results::Comparison missed = comparison({80, 40});
  missed.designs[1].checks = {deep};
  CHECK_THAT(study::make_verdict(missed).sentence,
             ContainsSubstring("Besides, with 'design 1' 1 limit is not kept: Depth of the trench (main)."));
}

TEST_CASE("a pump or a dry well that is too small is named as such") {
  for (const auto& [kind, said] : {std::pair{"pump", "the pump"}, std::pair{"dry well", "the dry well"}}) {
    results::Comparison two = comparison({80, 40});
    two.designs[1].drains = {{"leg", 0.0004, 0.001, 0, 1.0, "outlet", {{"outlet", 5.0}, {"cap", 2.0}}}};
    two.designs[1].outlets = {{"sump", 0.0004, 1.0}};
    two.designs[1].vessels = {{"sump", kind}};
    CHECK_THAT(study::make_verdict(two).sentence,
               ContainsSubstring(std::string("What limits the drain is ") + said));
    two.designs[1].outlets.push_back({"curb", 0.0001, 1.0}); // one of two
    CHECK_THAT(study::make_verdict(two).sentence, ContainsSubstring("What limits the drain is the outlet."));
  }
}

TEST_CASE("when none is enough, the best is named and the miss is said") {
  const results::Verdict verdict = study::make_verdict(comparison({80, 40, 30}));
  CHECK(verdict.design == "design 2");
  CHECK_FALSE(verdict.target_met);
  CHECK_THAT(verdict.sentence, ContainsSubstring("No design meets the target"));
}

TEST_CASE("a yard that needs no drain is told so") {
  const results::Verdict verdict = study::make_verdict(comparison({3, 1}));
  CHECK(verdict.design == "as is");
  CHECK(verdict.target_met);
  CHECK_THAT(verdict.sentence, ContainsSubstring("already clears"));
}

TEST_CASE("a yard without designs is not recommended anything") {
  CHECK_THAT(study::make_verdict(comparison({80})).sentence, ContainsSubstring("No design was given"));
}

TEST_CASE("a near miss does not read as the target") {
  const std::string said = study::make_verdict(comparison({80, 24.6})).sentence;
  CHECK_THAT(said, ContainsSubstring("No design meets the target of about 24 hours") &&
                       ContainsSubstring("'bed' stands just over 24 hours after the rain"));
}

TEST_CASE("a yard without areas, and one whose run ends with the rain") {
  results::Comparison two = comparison({12, 12});
  for (results::DesignRecord& design : two.designs) {
    design.areas.clear();
    design.standing_hours = {0, 12};
    design.time = {0, 12 * 3600.0};
    design.still_standing = true;
  }
  results::Verdict verdict = study::make_verdict(two);
  CHECK_FALSE(verdict.target_met);
  CHECK_THAT(verdict.sentence,
             ContainsSubstring("the wettest spot still stands when the simulated time ends, "
                               "about 12 hours after the rain"));
  two.end_of_rain = 12 * 3600;
  CHECK_THAT(study::make_verdict(two).sentence,
             ContainsSubstring("still stands when the simulated time ends, no later than the rain"));
  two.designs[1].still_standing = false; // of two that read 12 hours, the one that is dry
  two.designs.push_back(two.designs[0]);
  two.designs[2].name = "design 2";
  std::swap(two.designs[1], two.designs[2]);
  verdict = study::make_verdict(two);
  CHECK(verdict.target_met);
  CHECK(verdict.design == "design 1");
}

TEST_CASE("hours are said as people say them") {
  CHECK(study::plain_hours(0) == "only while it rains");
  CHECK(study::plain_hours(0.2) == "less than an hour");
  CHECK(study::plain_hours(6.3) == "about 6 hours");
  CHECK(study::plain_hours(61) == "about 62 hours");
  CHECK(study::plain_hours(100) == "about 4 days");
  // What passes on while it rains stands no hours after it.
  CHECK(study::hours_after_rain(0) == "only while it rains");
  CHECK(study::hours_after_rain(6.3) == "about 6 hours after the rain");
  CHECK(study::hours_between(4, 6) == "about 4 hours to about 6 hours");
  CHECK(study::hours_between(4, 4.1) == "about 4 hours");
  CHECK(study::hours_between(0, 6) == "up to about 6 hours");
  CHECK(study::hours_between(0, 0) == "only while it rains");
  CHECK(study::hours_between(4, 6, true) == "about 4 hours to more than 6 hours");
  CHECK(study::hours_between(0, 6, true) == "more than 6 hours");
  CHECK(study::hours_between(119, 120, true) == "about 5 days or more");
  CHECK(study::hours_between(0, 0, true) == "as long as it is followed");
  CHECK(study::hours_between(100, 126, true) == "about 4 days to more than 5 days"); // 5.25 are not 5.5
  CHECK(study::hours_between(126, 126, true) == "about 5 days or more");
  CHECK(study::hours_at_least(60, true) == "more than about 60 hours");
  CHECK(study::hours_at_least(126, true) == "more than about 5 days");
  CHECK(study::hours_at_least(0.5, true) == "as long as it is followed"); // not "more than less than an hour"
  CHECK(study::hours_at_least(60, false) == "about 60 hours");
  CHECK(study::place_name("the wettest spot") == "the wettest spot");
  CHECK(study::place_name("bed") == "'bed'");
}

TEST_CASE("ground that stays soggy after the last puddle is said, a puddle alone is not") {
  results::Comparison all;
  all.clear_within = 86400;
  results::DesignRecord as_is;
  as_is.name = "as is";
  as_is.time = {0, 7 * 86400.0};
  results::AreaRecord lawn;
  lawn.name = "lawn";
  lawn.standing_hours_after_rain = 3;
  lawn.soggy_hours_after_rain = 100;
  as_is.areas = {lawn};
  all.designs = {as_is};
  CHECK_THAT(study::make_verdict(all).sentence,
             ContainsSubstring("the ground of 'lawn' stays full of water for about 4 days"));
  all.designs[0].areas[0].under_slab = true;
  CHECK_THAT(study::make_verdict(all).sentence, ContainsSubstring("under 'lawn'"));
  all.designs[0].areas[0].soggy_hours_after_rain = 4;
  CHECK_THAT(study::make_verdict(all).sentence, !ContainsSubstring("full of water"));
}

TEST_CASE("a drain that makes a bed thirsty is not enough, and the verdict says why") {
  results::Comparison two = comparison({80, 3});
  results::BedRecord bed;
  bed.name = "roses";
  bed.days_below_half_available_water = 2;
  two.designs[0].beds = {bed};
  bed.days_below_half_available_water = 6;
  two.designs[1].beds = {bed};
  CHECK(study::make_verdict(two).target_met);
  two.dry_beyond = 86400;
  const results::Verdict verdict = study::make_verdict(two);
  CHECK_FALSE(verdict.target_met);
  CHECK_THAT(verdict.sentence, ContainsSubstring("No design keeps all that was agreed"));
  CHECK_THAT(verdict.sentence,
             ContainsSubstring("the bed 'roses' is short of water for about 6 days; agreed was "
                               "at most about 3 days"));
}

TEST_CASE("a bed that is still soggy at the end is said to be so only up to then") {
  results::Comparison two = comparison({80, 2});
  two.soggy_limit = 36 * 3600;
  results::BedRecord bed;
  bed.name = "roses", bed.soggy_hours = 24, bed.still_soggy = true;
  for (results::DesignRecord& record : two.designs) record.beds = {bed};
  const results::Verdict verdict = study::make_verdict(two);
  CHECK_FALSE(verdict.target_met);
  CHECK_THAT(verdict.sentence,
             ContainsSubstring("the bed 'roses' has its roots in full ground for about 24 hours up "
                               "to the end of the simulated time, and perhaps on; agreed was at "
                               "most about 36 hours."));
}

TEST_CASE("a drain whose end may be buried is not called enough without saying so") {
  results::Comparison two = comparison({80, 2});
  results::CheckRecord end;
  end.id = "outlet_free", end.about = "fence outlet",
  end.found = "the pipe ends 183 mm below the ground beside it";
  two.designs[1].checks = {end};
  CHECK_THAT(
      study::make_verdict(two).sentence,
      ContainsSubstring("Whether anything runs out at 'fence outlet' is UNKNOWN: the pipe ends 183 mm below "
                        "the ground beside it; shoot the ground beyond it."));
  two.designs[1].checks[0].outcome = results::CheckOutcome::pass;
  CHECK_THAT(study::make_verdict(two).sentence, !ContainsSubstring("UNKNOWN"));
}

TEST_CASE("roots that are still soggy when the run ends are said to be so for more than what it showed") {
  results::Comparison two = comparison({80, 2});
  two.soggy_limit = 48 * 3600;
  results::BedRecord bed;
  bed.name = "roses", bed.soggy_hours = 126, bed.still_soggy = true; // of a run of 5 days and 6 hours
  for (results::DesignRecord& record : two.designs) record.beds = {bed};
  CHECK_THAT(study::make_verdict(two).sentence,
             ContainsSubstring("roots in full ground for more than about 5 days; agreed was"));
}
