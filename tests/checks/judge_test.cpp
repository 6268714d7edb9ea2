#include <lowspot/checks/judge.hpp>

#include "round_yard.hpp"

using namespace lowspot;
using namespace lowspot::checks;

TEST_CASE("a figure is held against its limit, from above or from below, the limit itself being kept") {
  const SimpleYard yard = level_yard();
  auto judged = [&](const std::string& limit, double value) {
    results::CheckRecord record = item(yard.site, limit, "id", "name", "about");
    judge(record, yard.site, limit, value);
    return outcome(record);
  };
  CHECK(judged("pipe_cover", 6 * inch) == "pass");
  CHECK(judged("pipe_cover", 5.99 * inch) == "fail");
  CHECK(judged("pipe_full", 0.8) == "pass");
  CHECK(judged("pipe_full", 0.801) == "fail");
  CHECK(judged("frost_depth", 1) == "unknown"); // no general figure
  CHECK(judged("no_such_limit", 1) == "unknown");
}

TEST_CASE("an item names its limit, its source and whom to ask") {
  const SimpleYard yard = level_yard();
  results::CheckRecord record = item(yard.site, "pipe_cover", "pipe_cover", "Ground over the pipe", "main");
  judge(record, yard.site, "pipe_cover", 8 * inch, ", at the outlet");
  CHECK(record.limit == "at least 6 in");
  CHECK(record.found == "8 in, at the outlet");
  CHECK(record.mark == "M");
  CHECK_FALSE(record.source.empty());
  results::CheckRecord asked =
      item(yard.site, "well_distance", "well_distance", "Distance from a well", "well");
  judge(asked, yard.site, "well_distance", 10);
  CHECK_THAT(asked.missing, ContainsSubstring("health office") && ContainsSubstring("well_distance"));
  CHECK(asked.limit.empty());
}

TEST_CASE("a yard in metres is told limits in metres, and a town's own as the town wrote it") {
  SimpleYard yard = level_yard();
  yard.site.units = "m";
  yard.site.unit = 1;
  CHECK(item(yard.site, "pipe_cover", "x", "x", "x").limit == "at least 152 mm");
  CHECK(item(yard.site, "house_fall", "x", "x", "x").limit == "at least 5 %");
  CHECK(item(yard.site, "drain_down", "x", "x", "x").limit == "at most 48 hr");
  for (catalog::PracticeLimit& limit : yard.site.limits)
    if (limit.name == "pipe_cover") limit.written = "12 in", limit.from.mark = "town";
  CHECK(item(yard.site, "pipe_cover", "x", "x", "x").limit == "at least 12 in");
}

TEST_CASE("what nobody can measure is no length") {
  SimpleYard yard = level_yard();
  CHECK(length_text(3.3e-16, yard.site) == "0 in");
  CHECK(length_text(-9e-4, yard.site) == "0 in");
  CHECK(length_text(inch / 8, yard.site) == "0.125 in");
}

TEST_CASE("what nobody can measure is no fall, either way") {
  const SimpleYard yard = level_yard();
  const auto fall = [&](double value) { return written(catalog::LimitKind::slope, value, yard.site); };
  CHECK(fall(-1.2e-15) == "0 %");
  CHECK(fall(9e-6) == "0 %"); // a millimetre in a hundred metres
  CHECK(fall(-0.004) == "-0.4 %");
}
