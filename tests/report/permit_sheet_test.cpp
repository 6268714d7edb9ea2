#include "catch.hpp"

#include <lowspot/report/permit_sheet.hpp>

#include "report/sample_sheet.hpp"

using namespace lowspot::report;

TEST_CASE("the permit desk reads areas, storm, both sides of each line, the outlet and what is UNKNOWN") {
  sample::SheetMaker maker;
  const std::string page = permit_sheet_html(maker.scene());
  // 24 by 16 ft of patio and 38 by 6 ft of roof on 60 by 40 ft.
  CHECK_THAT(page, ContainsSubstring("612 ft\u00b2 (26 %), unchanged"));
  for (const char* words :
       {"edge: south", "across fence", "outlet: fence outlet", "on the limit of the ground", "UNKNOWN",
        "no random draws", "less than a part in 100 million", "unless sealed", "0.1.0", "west leg",
        "topsoil.depth", "[measured]"})
    CHECK_THAT(page, ContainsSubstring(words));
}

TEST_CASE("a line that gets more water than before is named") {
  sample::SheetMaker maker;
  CHECK(permit_sheet_html(maker.scene()).find("more than now") == std::string::npos);
  maker.comparison.designs[1].edges[0].volume = 2 * maker.comparison.designs[0].edges[0].volume;
  CHECK_THAT(permit_sheet_html(maker.scene()), ContainsSubstring("edge: south gets"));
}

TEST_CASE("the yard as it is has a sheet, too") {
  sample::SheetMaker maker;
  const std::string page = permit_sheet_html(maker.nothing_proposed());
  CHECK_THAT(page, ContainsSubstring("Nothing is proposed"));
  CHECK(page.find("proposed, most") == std::string::npos);
}

TEST_CASE("an outlet lies where the crew digs it") {
  sample::SheetMaker maker;
  const SheetScene scene = maker.scene();
  for (const lowspot::job::CutRun& run : scene.cut->runs)
    if (run.stations.front().note == "fence outlet")
      CHECK_THAT(permit_sheet_html(scene),
                 ContainsSubstring("invert " + elevation_text(run.stations.front().invert, scene.units())));
}
