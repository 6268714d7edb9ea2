#include "catch.hpp"

#include <set>

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("the verdict is the first section; those for one reader stand together") {
  CHECK(sections().front().id == "verdict");
  std::set<Reader> seen;
  const Section* before = nullptr;
  for (const Section& each : sections()) {
    const bool changes = before == nullptr || before->reader != each.reader;
    if (changes) CHECK(seen.insert(each.reader).second);
    CHECK_FALSE(reader_title(each.reader).empty());
    before = &each;
  }
  CHECK_THROWS_AS(section("nothing"), std::out_of_range);
}

TEST_CASE("every section has something to say about the sample, and stands a comparison of nothing") {
  const sample::PageMaker maker;
  sample::PageMaker empty;
  empty.comparison = {};
  empty.site = {};
  for (const Section& each : sections()) {
    INFO(each.id);
    // The sample followed no sources, was not diagnosed, ranks no options, checks nothing and drew no soils:
    // those have tests of their own.
    if (each.id != "shares" && each.id != "outlets" && each.id != "options" && each.id != "checks" &&
        each.id != "plausible" && each.id != "earthworks")
      CHECK_FALSE(each.html(maker.page()).empty());
    CHECK_NOTHROW(each.html(empty.page()));
  }
}
