#include <lowspot/report/limits_alert.hpp>

#include "catch.hpp"

#include <lowspot/report/crew_sheet.hpp>
#include <lowspot/report/permit_sheet.hpp>

#include "report/sample_sheet.hpp"

using namespace lowspot;
using namespace lowspot::report;

namespace {
results::CheckRecord failing(const std::string& id, const std::string& name) {
  results::CheckRecord check;
  check.id = id, check.name = name, check.about = "west leg";
  check.outcome = results::CheckOutcome::fail;
  check.found = "8 in beside it", check.limit = "at least 12 in";
  return check;
}
} // namespace

TEST_CASE("limits that are not kept are named with what was found, the rest counted") {
  CHECK(limits_alert({}, 3, 40, "report.html").empty());
  const std::string one = limits_alert({failing("footing", "Trench beside a footing")}, 3, 40, "report.html");
  CHECK_THAT(one,
             ContainsSubstring("1 limit is not kept by this design:") &&
                 ContainsSubstring("Trench beside a footing (west leg): 8 in beside it (at least 12 in)."));
  const std::vector<results::CheckRecord> five(5, failing("frost", "Frost"));
  CHECK_THAT(
      limits_alert(five, 3, 4, "the report"),
      ContainsSubstring("5 limits are not kept by this design:") &&
          ContainsSubstring("Frost (west leg): 8 in\u2026 (at least 12 in); and 3 more: see the report."));
}

TEST_CASE("what was found is cut behind a clause, not within the next") {
  results::CheckRecord check = failing("pipe_full", "How full the pipe runs");
  const auto said = [&](const std::string& found) {
    check.found = found;
    return limits_alert({check}, 3, 46, "report.html");
  };
  CHECK_THAT(said("178 % of what it carries when full, at the peak"),
             ContainsSubstring("178 % of what it carries when full (at least"));
  CHECK_THAT(said("0.22 m/s at the storm peak; water gets in that silts it up"),
             ContainsSubstring("0.22 m/s at the storm peak (at least"));
  CHECK_THAT(said("4.77 in, 6 ft up from the outlet (the last 6 ft run out of the ground)"),
             ContainsSubstring("4.77 in, 6 ft up from the outlet (at least"));
  CHECK_THAT(said("what is dug cuts 58 mm below it (well, 1200 mm from the wall): only with consent"),
             ContainsSubstring("what is dug cuts 58 mm below it (at least"));
  CHECK_THAT(said("at once 2 L/s before, 3 L/s after which the ground takes it"),
             ContainsSubstring("3 L/s after which the\u2026 (at least")); // the second figure stays
}

TEST_CASE("the crew and the permit desk read which limits the design does not keep") {
  sample::SheetMaker maker;
  CHECK(limits_lines(maker.scene()) == 0);
  CHECK_THAT(crew_sheet_html(maker.scene()) + permit_sheet_html(maker.scene()),
             !ContainsSubstring("not kept"));
  maker.comparison.designs[1].checks = {failing("pipe_cover", "Ground over the pipe"),
                                        failing("footing", "Trench beside a footing")};
  CHECK(limits_lines(maker.scene()) == 2);
  for (const std::string& page : {crew_sheet_html(maker.scene()), permit_sheet_html(maker.scene())}) {
    CHECK_THAT(page, ContainsSubstring("2 limits are not kept by this design:"));
    CHECK(page.find("Trench beside a footing") < page.find("Ground over the pipe"));
  }
  // What the yard brings with it is none of the design's.
  maker.comparison.designs[0].checks = maker.comparison.designs[1].checks;
  CHECK(limits_alert(maker.scene()).empty());
  CHECK(limits_alert(maker.nothing_proposed()).empty());
}
