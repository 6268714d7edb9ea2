#include "catch.hpp"

#include <lowspot/report/owner_sheet.hpp>

#include "report/sample_sheet.hpp"

using namespace lowspot::report;

TEST_CASE("the owner reads what was found, what is built, what to expect and what it does not do") {
  sample::SheetMaker maker;
  const std::string page = owner_sheet_html(maker.scene());
  for (const char* words : {"3-inch is enough", "long bed", "What is built", "What it does not do", "Upkeep",
                            "UNKNOWN", "one year", "now", "as proposed"})
    CHECK_THAT(page, ContainsSubstring(words));
  // The storm of the sample has no return period, so none is claimed.
  CHECK(page.find("once in") == std::string::npos);
  maker.site.storm.return_period = 10;
  CHECK_THAT(owner_sheet_html(maker.scene()), ContainsSubstring("once in 10 years"));
}

TEST_CASE("without a design the owner is told what is, and nothing is sold") {
  sample::SheetMaker maker;
  maker.site.designs.clear();
  const std::string page = owner_sheet_html(maker.nothing_proposed());
  CHECK(page.find("What is built") == std::string::npos);
  CHECK(page.find("as proposed") == std::string::npos);
  CHECK_THAT(page, ContainsSubstring("designs: none proposed"));
}
