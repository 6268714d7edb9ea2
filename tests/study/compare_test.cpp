#include "catch.hpp"
#include "simple_yard.hpp"

#include <limits>

#include <lowspot/base/error.hpp>
#include <lowspot/study/compare.hpp>

using namespace lowspot;

namespace {
// A bowl with an area, and a storm given in blocks.
SimpleYard bowl() {
  SimpleYard yard =
      simple_yard(20, 12, 0.25, [](double x, double y) { return 1.0 + 0.02 * std::hypot(x - 2.5, y - 1.5); });
  make_pervious(yard);
  open_side(yard, terrain::Side::east);
  add_whole_area(yard, "bowl");
  yard.site.storm.pattern = "blocks";
  yard.site.storm.blocks = {{1800, 1e-5}};
  yard.site.storm.dry = 6 * 3600.0;
  yard.site.designs = {simple_drain(yard, 0.45)};
  return yard;
}
} // namespace

TEST_CASE("as is and each design, the same answer on one thread and on two") {
  const SimpleYard yard = bowl();
  study::CompareOptions options;
  options.threads = 1;
  const results::Comparison one = study::compare(yard.site, yard.ground, options);
  options.threads = 2;
  const results::Comparison two = study::compare(yard.site, yard.ground, options);
  REQUIRE(one.designs.size() == 2);
  CHECK(one.designs[0].name == "as is");
  CHECK(one.designs[1].name == "drain");
  for (std::size_t d = 0; d < 2; ++d) {
    CHECK(one.designs[d].max_depth == two.designs[d].max_depth);
    CHECK(one.designs[d].standing_hours == two.designs[d].standing_hours);
    CHECK(std::abs(one.designs[d].ledger.closure) < 1e-9 * one.designs[d].ledger.rain);
  }
  CHECK(one.designs[1].areas[0].standing_hours_after_rain <
        one.designs[0].areas[0].standing_hours_after_rain);
  CHECK_FALSE(one.verdict.sentence.empty());
}

TEST_CASE("a routed comparison says so, warns, and answers nearly like the dynamic one") {
  const SimpleYard yard = bowl();
  study::CompareOptions options;
  const results::Comparison dynamic = study::compare(yard.site, yard.ground, options);
  options.method = surface::Method::routed;
  const results::Comparison routed = study::compare(yard.site, yard.ground, options);
  CHECK(dynamic.method == "dynamic");
  CHECK(routed.method == "routed");
  REQUIRE(routed.warnings.size() == dynamic.warnings.size() + 1);
  const auto says_so = [](const std::string& warning) {
    return warning.find("was routed from pool to pool") != std::string::npos;
  };
  CHECK(std::count_if(routed.warnings.begin(), routed.warnings.end(), says_so) == 1);
  for (std::size_t d = 0; d < 2; ++d) {
    CHECK(std::abs(routed.designs[d].ledger.closure) < 1e-9 * routed.designs[d].ledger.rain);
    CHECK_THAT(routed.designs[d].areas[0].standing_hours_after_rain,
               WithinAbs(dynamic.designs[d].areas[0].standing_hours_after_rain, 0.25));
  }
}

TEST_CASE("progress only grows and a stop is obeyed") {
  const SimpleYard yard = bowl();
  study::CompareOptions options;
  options.threads = 1;
  double last = 0;
  options.progress = [&](double share) {
    CHECK(share >= last - 1e-12);
    last = share;
    return true;
  };
  study::compare(yard.site, yard.ground, options);
  CHECK_THAT(last, WithinAbs(1.0, 1e-9));
  options.progress = [](double) { return false; };
  CHECK_THROWS_AS(study::compare(yard.site, yard.ground, options), study::Stopped);
}

TEST_CASE("a design that is not there is refused with the nearest name") {
  const SimpleYard yard = bowl();
  study::CompareOptions options;
  options.designs = {"drian"};
  CHECK_THROWS_WITH(study::compare(yard.site, yard.ground, options),
                    ContainsSubstring("did you mean \"drain\""));
}

TEST_CASE("what memory cannot hold is refused before anything runs") {
  SimpleYard yard = bowl();
  yard.ground.grid.nx = yard.ground.grid.ny = 2000;
  yard.site.designs.assign(50, yard.site.designs.front());
  yard.site.storm.dry = 7 * 86400.0;
  CHECK_THROWS_WITH(study::compare(yard.site, yard.ground, {}),
                    ContainsSubstring("51 runs on 4000000 cells with") && ContainsSubstring("GB of memory"));
}

TEST_CASE("a comparison that is stopped keeps what is finished and says what is missing") {
  SimpleYard yard = bowl();
  yard.site.designs.push_back(yard.site.designs.front());
  yard.site.designs.back().name = "second";
  study::CompareOptions options;
  options.threads = 1;
  options.keep_finished = true;
  options.progress = [](double share) { return share < 0.7; }; // of three runs, in the third
  const results::Comparison part = study::compare(yard.site, yard.ground, options);
  REQUIRE(part.designs.size() == 2);
  CHECK(part.designs[1].name == "drain");
  const std::string stop = "Stopped by you after 1 of 2 designs; not run to the end: \"second\".";
  CHECK(part.warnings.at(0) == stop);
  CHECK(part.verdict.sentence.rfind(stop, 0) == 0);
  options.designs = {"drain"};
  options.progress = {};
  const results::Comparison whole = study::compare(yard.site, yard.ground, options);
  CHECK(part.designs[1].max_depth == whole.designs[1].max_depth);
  options.progress = [](double share) { return share < 0.2; }; // in the yard as it is: nothing to tell
  CHECK_THROWS_AS(study::compare(yard.site, yard.ground, options), study::Stopped);
}

TEST_CASE("books that do not close end a comparison with what they say, on one thread and on two") {
  SimpleYard yard = bowl();
  site::EdgeSeep seep;
  seep.along = {{0, 0}, {0, 3}};
  seep.time = {0};
  seep.flow = {std::numeric_limits<double>::quiet_NaN()};
  yard.site.edges.seeps = {seep};
  study::CompareOptions options;
  for (options.threads = 1; options.threads <= 2; ++options.threads) {
    try {
      study::compare(yard.site, yard.ground, options);
      FAIL("it was taken");
    } catch (const NumericsError& error) {
      CHECK_THAT(error.what(), ContainsSubstring("the books do not close"));
    }
  }
}
