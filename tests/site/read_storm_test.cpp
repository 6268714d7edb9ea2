#include <lowspot/site/readers.hpp>

#include <cmath>

#include "sample.hpp"

using namespace sample;

TEST_CASE("without a [storm] a usual one is listed") {
  const auto site = read(yard(""));
  CHECK(site.storm.depth == Approx(0.0508));
  CHECK(site.storm.pattern == "nested");
  CHECK(assumed(site, "storm.depth") == "2 in");
  CHECK(assumed(site, "storm.duration") == "6 hr");
  CHECK(assumed(site, "storm.dry") == "7 d");
  CHECK(assumed(site, "storm.reference_et") == "0.15 in/d");
}

TEST_CASE("a storm by depth, with later ones") {
  const auto site = read(yard("[storm]\ndepth = \"2.6 in\"\nduration = \"3 hr\"\npattern = \"uniform\"\ndry "
                              "= \"2 d\"\nreference_et = \"0 mm/d\"\n"
                              "then = [ { after = \"36 hr\", depth = \"1 in\", duration = \"3 hr\" } ]\n"));
  CHECK(site.storm.depth == Approx(0.06604));
  CHECK(site.storm.duration == 10800);
  CHECK(site.storm.dry == 172800);
  CHECK(site.storm.reference_et == 0);
  REQUIRE(site.storm.then.size() == 1);
  CHECK(site.storm.then[0].after == 36 * 3600);
  CHECK(site.storm.then[0].pattern == "uniform");
  CHECK(read(yard("[storm]\ndepth = \"2 in\"\npattern = \"nrcs-ii\"\n")).storm.duration == 86400);
}

TEST_CASE("a storm by steps") {
  const auto site = read(yard("[storm]\nblocks = [[\"30 min\", \"25 mm/hr\"], [\"1 hr\", \"0 mm/hr\"]]\n"));
  CHECK(site.storm.pattern == "blocks");
  REQUIRE(site.storm.blocks.size() == 2);
  CHECK(site.storm.blocks[0].duration == 1800);
  CHECK(site.storm.blocks[0].intensity == Approx(0.025 / 3600));
  CHECK_THAT(error_of(yard("[storm]\nblocks = [[\"25 mm/hr\", \"30 min\"]]\n")).mend,
             ContainsSubstring("Duration first"));
  CHECK_THAT(error_of(yard("[storm]\nblocks = [[30, 25]]\n")).mend, ContainsSubstring("texts in quotes"));
  CHECK_THAT(error_of(yard("[storm]\nblocks = []\n")).found, ContainsSubstring("a list of 0"));
  CHECK_THAT(error_of(yard("[storm]\ndepth = \"1 in\"\nblocks = [[\"30 min\", \"25 mm/hr\"]]\n")).expected,
             ContainsSubstring("one description"));
}

TEST_CASE("a storm from tables") {
  const Folder folder;
  folder.write("ddf.csv", "duration\n");
  folder.write("rain.csv", "time,depth\n");
  const auto table =
      read(yard("[storm]\ntable = \"ddf.csv\"\nreturn_period = \"10 yr\"\nduration = \"6 hr\"\n"), folder);
  CHECK(table.storm.table == "ddf.csv");
  CHECK(table.storm.return_period == 10);
  CHECK(std::isnan(table.storm.depth));
  const auto both =
      read(yard("[storm]\ntable = \"ddf.csv\"\nreturn_period = \"10 yr\"\ndepth = \"1 in\"\n"), folder);
  CHECK(both.storm.depth == Approx(0.0254));
  CHECK(warned(both, "scaled alike"));
  CHECK(
      read(yard("[storm]\ntable = \"ddf.csv\"\nreturn_period = \"2-year\"\n"), folder).storm.return_period ==
      2);
  CHECK(table.storm.return_period_line == 9);
  const auto gauge = read(yard("[storm]\ngauge = \"rain.csv\"\n"), folder);
  CHECK(gauge.storm.pattern == "gauge");
  CHECK_THAT(error_of(yard("[storm]\ntable = \"ddf.csv\"\n"), folder).where.key,
             ContainsSubstring("return_period"));
  CHECK(error_of(yard("[storm]\ntable = \"ddf.csv\"\nreturn_period = 10\n"), folder).mend ==
        "Write return_period = \"10 yr\".");
  for (const std::string period : {"ten", "0x10 yr", "inf yr", "nan yr", "1e400 yr", "-10 yr", "10", "yr"}) {
    CAPTURE(period);
    CHECK_THAT(
        error_of(yard("[storm]\ntable = \"ddf.csv\"\nreturn_period = \"" + period + "\"\n"), folder).expected,
        ContainsSubstring("10 yr"));
  }
  CHECK_THAT(error_of(yard("[storm]\ndepth = \"1 in\"\nreturn_period = \"10 yr\"\n"), folder).found,
             ContainsSubstring("without a table"));
  CHECK_THAT(error_of(yard("[storm]\npattern = \"gauge\"\n"), folder).where.key,
             ContainsSubstring("storm.gauge"));
}

TEST_CASE("what the sun draws, by month") {
  const auto site = read(yard("[storm]\ndepth = \"1 in\"\nmonth = \"july\"\n"));
  CHECK(site.storm.reference_et == 5.5e-8);
  CHECK_THAT(assumed(site, "storm.reference_et"), ContainsSubstring("in/d (July)"));
  CHECK_THAT(error_of(yard("[storm]\ndepth = \"1 in\"\nmonth = \"Juli\"\n")).mend,
             ContainsSubstring("\"July\""));
  // A rate of one's own rules; the month still says how warm it is.
  const auto both = read(yard("[storm]\ndepth = \"1 in\"\nmonth = \"May\"\nreference_et = \"1 mm/d\"\n"));
  CHECK_THAT(both.storm.reference_et, WithinRel(1e-3 / 86400, 1e-12));
  CHECK(warned(both, "temperature only"));
}

TEST_CASE("storms that cannot be used, or hardly") {
  const auto unit = error_of(yard("[storm]\ndepth = \"2.6 hr\"\n"));
  CHECK(unit.where.line == 8);
  CHECK(unit.where.key == "storm.depth");
  CHECK_THAT(error_of(yard("[storm]\nduration = \"2 hr\"\n")).where.key, ContainsSubstring("storm.depth"));
  CHECK_THAT(error_of(yard("[storm]\ndepth = \"1 in\"\npattern = \"nestd\"\n")).mend,
             ContainsSubstring("\"nested\""));
  CHECK(warned(read(yard("[storm]\ndepth = \"20 in\"\n")), "more rain than"));
  CHECK(warned(read(yard("[storm]\ndepth = \"1 in\"\nreference_et = \"2 in/d\"\n")), "too fast"));
  CHECK(read(yard("[storm]\ndepth = \"0 in\"\n")).storm.depth == 0);
}

TEST_CASE("rain harder than any is warned of: a slip of unit or duration") {
  const auto with = [](const std::string& depth, const std::string& duration) {
    return read(
        yard("[storm]\npattern = \"uniform\"\ndepth = \"" + depth + "\"\nduration = \"" + duration + "\"\n"));
  };
  CHECK(warned(with("3 in", "6 min"), "storm.duration: 3 in in 6 min comes near the hardest rain ever"));
  const auto hours = [](int count) { // of 5 in each
    std::string blocks = "[[\"1 hr\", \"5 in/hr\"]";
    for (int k = 1; k < count; ++k) blocks += ", [\"1 hr\", \"5 in/hr\"]";
    return read(yard("[storm]\nblocks = " + blocks + "]\n"));
  };
  CHECK_FALSE(warned(hours(1), "comes near the hardest rain ever"));
  CHECK(warned(hours(4), "storm.blocks: 20 in in 4 hr comes near the hardest rain ever"));
  CHECK_FALSE(warned(with("3 in", "1 hr"), "hardest"));
  CHECK_FALSE(warned(with("14 in", "24 hr"), "hardest")); // the hundred years of a wet coast
  CHECK(warned(with("50 in", "24 hr"), "more rain than any yard drain"));
  CHECK(warned(read(yard("[storm]\nblocks = [[\"30 min\", \"1 in/hr\"], [\"10 min\", \"25 in/hr\"]]\n")),
               "storm.blocks: 4.17 in in 10 min"));
}

TEST_CASE("a pattern of a day holds for a day, and says so") {
  const site::Site site = read(yard("[storm]\ndepth = \"3 in\"\nduration = \"12 hr\"\npattern = \"nrcs-ii\"\n"
                                    "then = [ { after = \"36 hr\", depth = \"1 in\", duration = \"3 hr\", "
                                    "pattern = \"nrcs-i\" } ]\n"));
  CHECK(site.storm.duration == 86400);
  CHECK(site.storm.then.at(0).duration == 86400);
  CHECK(warned(site, "12 hr is not used"));
  CHECK(warned(site, "3 hr is not used"));
  CHECK_FALSE(warned(read(yard("[storm]\ndepth = \"3 in\"\nduration = \"24 hr\"\npattern = \"nrcs-ii\"\n")),
                     "is not used"));
}

TEST_CASE("a later storm near the hardest rain ever measured is warned of as the first is") {
  const std::string first = "[storm]\ndepth = \"2 in\"\nduration = \"6 hr\"\n";
  const site::Site mild =
      read(yard(first + "then = [{ after = \"1 d\", depth = \"2 in\", duration = \"1 hr\" }]\n"));
  CHECK_FALSE(warned(mild, "hardest rain"));
  const site::Site hard =
      read(yard(first + "then = [{ after = \"1 d\", depth = \"300 in\", duration = \"10 min\" }]\n"));
  CHECK(warned(hard, "hardest rain"));
}

TEST_CASE("a storm of no rain is pointed at, in a depth and in blocks") {
  CHECK(warned(read(yard("[storm]\ndepth = \"0 in\"\nduration = \"2 hr\"\n")),
               "storm.depth: is no rain at all"));
  CHECK(warned(read(yard("[storm]\nblocks = [[\"1 hr\", \"0 in/hr\"]]\n")), "storm.blocks: have no rain"));
  CHECK_FALSE(warned(read(yard("[storm]\nblocks = [[\"1 hr\", \"0 in/hr\"], [\"1 hr\", \"1 in/hr\"]]\n")),
                     "no rain"));
}
