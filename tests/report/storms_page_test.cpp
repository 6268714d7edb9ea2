#include "catch.hpp"

#include <lowspot/report/storms_page.hpp>

using namespace lowspot;

TEST_CASE("the page of storms: answer, chart, table, names as typed") {
  study::StormStudy study;
  study.levels = {{2, 0.05, 1e-5, {}}, {100, 0.13, 3e-5, {}}};
  study.clear_within = 86400;
  study.cell = 0.3;
  study.method = "routed";
  study::StormCurve as_is, drain;
  as_is.design = "as is", as_is.hours = {30, 90}, as_is.place = {"bed", "bed"}, as_is.open = {0, 1},
  as_is.met = {0, 0};
  drain.design = "<i>drain</i>", drain.hours = {0, 30}, drain.place = {"bed", "bed"}, drain.open = {0, 0},
  drain.met = {1, 0};
  study.curves = {as_is, drain};
  study.sentences = {"One.", "Two."};
  site::Site site;
  site.name = "Yard";
  const std::string html = report::storms_html(study, site, "0.1");
  CHECK_THAT(html, ContainsSubstring("One.") && ContainsSubstring("<svg") &&
                       ContainsSubstring("100\u2011year") && ContainsSubstring("&lt;i&gt;drain&lt;/i&gt;") &&
                       !ContainsSubstring("<i>drain"));
  CHECK_THAT(html, ContainsSubstring(">rain, "));
  CHECK_THAT(html, ContainsSubstring("over ") && ContainsSubstring("\u2713 0 h"));
  study.draws = 5;
  study.curves[0].p10 = study.curves[1].p10 = {1, 2}, study.curves[0].p90 = study.curves[1].p90 = {4, 60};
  study.curves[0].works = study.curves[1].works = {1, 0.2};
  study.curves[0].p90_open = {0, 1}, study.curves[1].p90_open = {0, 0};
  CHECK_THAT(report::storms_html(study, site, "0.1"),
             ContainsSubstring("to more than 60 h; meets") && ContainsSubstring("to 60 h; meets") &&
                 ContainsSubstring("to 4 h; meets") &&
                 // Of four phrases on a line each may be parted; a column of hours alone is one of figures.
                 !ContainsSubstring("<td class=\"n\">\u2717"));
  study.draws = 0;
  for (study::StormCurve& curve : study.curves) curve.p10.clear(), curve.p90.clear();
  study.curves[0].hours = {30, 0};
  CHECK_THAT(report::storms_html(study, site, "0.1"),
             ContainsSubstring("\u2717 still standing at the end<") && !ContainsSubstring("over 0 h"));
  study.curves[1].hours = {24.4, 30};
  study.curves[1].met = {0, 0};
  CHECK_THAT(report::storms_html(study, site, "0.1"), ContainsSubstring("\u2717 just over 24 h<"));
  // Storms that are called by their depth have it once.
  for (study::StormLevel& level : study.levels) level.return_period = site::not_given;
  CHECK_THAT(report::storms_html(study, site, "0.1"),
             ContainsSubstring("of rain</th>") && !ContainsSubstring(">rain, "));
}
