#include <lowspot/report/tune_words.hpp>

#include "catch.hpp"
#include "report/sample_tuning.hpp"

using namespace lowspot;

TEST_CASE("the answer first: the smallest, and why the next smaller fails") {
  const std::string text = report::tune_headline(sample::site(), sample::tuning());
  CHECK_THAT(text,
             ContainsSubstring("The smallest that does it is '16 in deep; open stone': 2.49 cu yd to dig") &&
                 ContainsSubstring("'long bed' stands about 6 hours") &&
                 ContainsSubstring("The next smaller, '16 in deep; sod' (2.35 cu yd to dig), fails because "
                                   "'long bed' stands about 34 hours after the rain; agreed was at most "
                                   "about 24 hours"));
}

TEST_CASE("water that is gone when the rain ends is not said to stand after it") {
  study::Tuning tuning = sample::tuning();
  tuning.tried[2] = sample::tried("16 in deep; open stone", 1.9, 0, true);
  CHECK_THAT(report::tune_headline(sample::site(), tuning),
             ContainsSubstring("stands only while it rains.") && !ContainsSubstring("rains after"));
}

TEST_CASE("of a next smaller that was not run in full nothing is said") {
  study::Tuning tuning = sample::tuning();
  tuning.tried[1] = sample::tried("16 in deep; sod", 1.8, 20, false);
  CHECK_THAT(report::tune_headline(sample::site(), tuning), !ContainsSubstring("fails because"));
}

TEST_CASE("the smallest that moves the water but does not keep its limits is said to be so first") {
  study::Tuning tuning = sample::tuning();
  results::CheckRecord check;
  check.id = "roots";
  check.name = "Roots of trees";
  check.about = "oak";
  tuning.limits_not_kept = {check};
  CHECK_THAT(
      report::tune_headline(sample::site(), tuning),
      ContainsSubstring("The smallest that moves the water is '16 in deep; open stone', but 1 limit is not "
                        "kept: Roots of trees (oak). It takes 2.49 cu yd to dig"));
}

TEST_CASE("where none works, how near the nearest comes and what holds it back") {
  study::Tuning tuning = sample::tuning();
  tuning.smallest = -1;
  for (study::Tried& tried : tuning.tried) tried.works = false;
  tuning.tried[2] = sample::tried("16 in deep; open stone", 1.9, 30, true);
  CHECK_THAT(
      report::tune_headline(sample::site(), tuning),
      ContainsSubstring("None of the 5 combinations does it. The nearest is '16 in deep; open stone'"));
  const std::vector<std::string> stops = report::stop_words(sample::site(), tuning);
  REQUIRE(stops.size() == 3);
  CHECK_THAT(stops[0], ContainsSubstring("1 combination cannot be built (fall)") &&
                           ContainsSubstring("A lower outlet"));
  CHECK_THAT(stops[1], ContainsSubstring("water stands too long"));
  CHECK_THAT(stops[2], ContainsSubstring("try a more open cap"));
  for (study::Tried& tried : tuning.tried) tried.candidate.refused = "it rains";
  CHECK_THAT(report::tune_headline(sample::site(), tuning), ContainsSubstring("can be built here"));
}

TEST_CASE("the ground that is missing over a pipe is told to a tenth of an inch, and never too little") {
  study::Tuning tuning = sample::tuning();
  for (study::Tried& tried : tuning.tried)
    if (tried.candidate.limit == "fall") tried.candidate.limit = "cover", tried.candidate.missed_by = 0.00225;
  CHECK_THAT(report::stop_words(sample::site(), tuning)[0],
             ContainsSubstring(" 0.1 in more ground over it would let it through"));
}

TEST_CASE("a yard that needs no drain is told so, and each step says what it buys") {
  study::Tuning tuning = sample::tuning();
  tuning.as_is_works = true;
  CHECK_THAT(report::tune_headline(sample::site(), tuning), ContainsSubstring("no drain is needed"));
  const std::vector<std::string> steps = report::step_words(sample::site(), tuning);
  REQUIRE(steps.size() == 4); // the bend and three steps
  CHECK_THAT(steps[0], ContainsSubstring("bends at '16 in deep; open stone'"));
  CHECK_THAT(steps[2], ContainsSubstring("0.13 cu yd more to dig (5.6 %) buys about 28 hours."));
  CHECK_THAT(steps[3], ContainsSubstring("by the quick look"));
}

TEST_CASE("how it was found: the error of the quick look is told") {
  CHECK_THAT(report::method_words(sample::site(), sample::tuning()),
             ContainsSubstring("3 were run in full") &&
                 ContainsSubstring("run both ways, the yard as it is among them, the quick look") &&
                 ContainsSubstring("off by up to 1.5 h") && ContainsSubstring("cells of 12 in"));
  study::Tuning full = sample::tuning();
  full.quick_used = false;
  CHECK_THAT(report::method_words(sample::site(), full),
             ContainsSubstring("Of 5 combinations, 4 can be built and were run in full."));
  full.tried.pop_back();
  CHECK(report::method_words(sample::site(), full) == "All 4 combinations were run in full.");
}

TEST_CASE("where nothing can be built, nothing is said of others or of runs") {
  study::Tuning tuning = sample::tuning();
  tuning.smallest = -1;
  tuning.quick_used = false;
  CHECK(report::stop_heading(sample::tuning()) == "What stops the others");
  CHECK(report::stop_heading(tuning) == "What stops them");
  CHECK(report::any_run(tuning));
  for (study::Tried& tried : tuning.tried) {
    tried = tuning.tried.back();
    tried.works = false;
  }
  CHECK_FALSE(report::any_run(tuning));
  CHECK(report::method_words(sample::site(), tuning) ==
        "Nothing was run: no figure here says what a drain would do.");
  tuning.tried.resize(1);
  CHECK(report::tune_headline(sample::site(), tuning) ==
        "The one combination to be tried cannot be built here.");
  CHECK(report::stop_heading(tuning) == "What stops it");
}

TEST_CASE("which limits the search does not look at is said") {
  CHECK_THAT(report::limits_note(),
             ContainsSubstring("leaves over each side") && ContainsSubstring("compare"));
}

TEST_CASE("roots that are still in full ground at the end are said to be, whatever hours were agreed") {
  study::Tried tried = sample::tried("16 in deep; sod", 1.8, 20, false);
  tried.works = false;
  tried.judged = {{results::Promise::soggy_bed, "roses", 24 * 3600.0, 36 * 3600.0, true, false}};
  CHECK_THAT(
      report::failure_words(tried),
      ContainsSubstring("and still so when the simulated time ends; agreed was at most about 36 hours"));
  tried.judged[0].open_ended = false;
  CHECK_THAT(report::failure_words(tried), !ContainsSubstring("still so"));
}

TEST_CASE("a cost is told in whole dollars; why there is none is told where there are prices") {
  study::Tuning tuning = sample::tuning();
  site::Site site = sample::site();
  CHECK(report::cost_note(site, tuning).empty());
  site.ordering.rates = {{"sod", 0.9, "ft2", 7}};
  CHECK_THAT(report::cost_note(site, tuning), ContainsSubstring("your prices leave out items"));
  tuning.by_cost = true;
  double cost = 877.6;
  for (study::Tried& tried : tuning.tried) tried.candidate.works.cost = cost, cost += 40.4;
  CHECK(report::cost_note(site, tuning).empty());
  CHECK_THAT(report::tune_headline(site, tuning), ContainsSubstring("'16 in deep; open stone': $958, 2.49") &&
                                                      ContainsSubstring("($918, 2.35 cu yd to dig)"));
  CHECK_THAT(report::step_words(site, tuning).back(), ContainsSubstring("$40.40 more"));
}
