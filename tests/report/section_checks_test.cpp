#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot;
using namespace lowspot::report;

namespace {
results::CheckRecord check(const std::string& name, results::CheckOutcome outcome) {
  results::CheckRecord record;
  record.id = name;
  record.name = name;
  record.about = "a <run>";
  record.outcome = outcome;
  record.limit = "at least 6 in";
  record.source = "a code";
  record.mark = "V";
  record.found = "4 in";
  if (outcome == results::CheckOutcome::unknown) record.missing = "a measurement";
  return record;
}
} // namespace

TEST_CASE("checks are listed, what fails first, unknown ones with what is missing") {
  sample::PageMaker maker;
  results::DesignRecord& design = maker.comparison.designs.back();
  maker.comparison.verdict.design = design.name;
  design.checks = {check("kept", results::CheckOutcome::pass),
                   check("not known", results::CheckOutcome::unknown),
                   check("broken", results::CheckOutcome::fail)};
  const std::string html = section("checks").html(maker.page());
  CHECK_THAT(html, ContainsSubstring("1 fail, 1 unknown, 1 pass") &&
                       ContainsSubstring("Missing: a measurement") && ContainsSubstring("a code [V]") &&
                       ContainsSubstring("a &lt;run&gt;"));
  CHECK(html.find("broken") < html.find("not known"));
  CHECK(html.find("not known") < html.find("kept"));
  CHECK(html.find("<details>") == std::string::npos);
  maker.comparison.verdict.design = maker.comparison.designs.front().name; // what is proposed is looked at
  CHECK(section("checks").html(maker.page()).find("<details>") == std::string::npos);
  maker.comparison.verdict.design = "another";
  CHECK_THAT(section("checks").html(maker.page()), ContainsSubstring("<details>"));
}

TEST_CASE("without checks there is no section") {
  sample::PageMaker maker;
  CHECK(section("checks").html(maker.page()).empty());
}
