#include <lowspot/report/storm_words.hpp>

#include "catch.hpp"

#include <lowspot/report/owner_sheet.hpp>
#include <lowspot/report/permit_sheet.hpp>
#include <lowspot/report/report_page.hpp>

#include "report/sample_sheet.hpp"

using namespace lowspot;
using namespace lowspot::report;

TEST_CASE("a storm is told by its own depth and duration, and those that follow it by theirs") {
  sample::SheetMaker maker;
  const Units feet = units_for("ft");
  CHECK(storm_words(maker.site, maker.comparison, feet) == "2.6 in of rain in 6 h");
  CHECK(later_storms_words(maker.site, feet).empty());
  maker.site.storm.duration = 6 * 3600;
  maker.site.storm.then = {{36 * 3600.0, 0.0254, 3 * 3600.0, "uniform"}};
  maker.comparison.storm_depth = 3.6 * 0.0254; // of all that falls
  CHECK(storm_words(maker.site, maker.comparison, feet) == "2.6 in of rain in 6 h");
  CHECK(later_storms_words(maker.site, feet) == ", then 1 in in 3 h after 36 h without rain");
  // Of a gauge the comparison knows when all rain ends.
  maker.site.storm.duration = site::not_given;
  maker.comparison.storm_duration = 45 * 3600;
  CHECK(storm_words(maker.site, maker.comparison, feet) == "2.6 in of rain in 6 h");
  maker.site.storm.then.resize(3, maker.site.storm.then[0]);
  CHECK(later_storms_words(maker.site, feet) ==
        ", then 3 in in 3 later storms, the first after 36 h without rain");
}

TEST_CASE("no page gives the depth of several storms the duration or the return period of the first") {
  sample::SheetMaker maker;
  maker.site.storm.duration = 6 * 3600;
  maker.site.storm.return_period = 10;
  maker.site.storm.depth = site::not_given;
  maker.site.storm.then = {{36 * 3600.0, 0.0254, 3 * 3600.0, "uniform"}};
  maker.comparison.storm_depth = 3.6 * 0.0254;
  for (const std::string& page :
       {owner_sheet_html(maker.scene()), permit_sheet_html(maker.scene()), report_html(maker.page())}) {
    CHECK_THAT(page, ContainsSubstring("2.6 in of rain in 6 h") &&
                         ContainsSubstring("hen 1 in in 3 h after") && !ContainsSubstring("3.6 in"));
  }
  CHECK_THAT(
      owner_sheet_html(maker.scene()),
      ContainsSubstring("2.6 in of rain in 6 h (the storm that comes once in 10 years on average), then "
                        "1 in in 3 h after 36 h without rain."));
}
