#include "catch.hpp"

#include <lowspot/report/diagnosis_page.hpp>

#include "report/sample_diagnosis.hpp"
#include "results/scratch_folder.hpp"

using namespace lowspot::report;

TEST_CASE("on paper the map is large, and what fills a puddle stands there, too") {
  const auto site = sample::site();
  const auto all = sample::diagnosis();
  CHECK_THAT(diagnosis_html({site, all, units_for("ft")}, "picture"),
             ContainsSubstring("#map img{max-height:150mm}#shares .only-screen{display:block!important}"));
}

TEST_CASE("the page begins with the answer, holds the map and needs no network") {
  const auto site = sample::site();
  auto all = sample::diagnosis();
  all.yard.site_name = "A <yard>";
  const std::string html = diagnosis_html({site, all, units_for("ft")}, "picture");
  CHECK_THAT(html, ContainsSubstring("Why it is wet: A &lt;yard&gt;") &&
                       ContainsSubstring("The long bed holds") &&
                       ContainsSubstring("data:image/png;base64,") &&
                       ContainsSubstring("Outlets and the fall to them") && ContainsSubstring("utilities"));
  CHECK(html.find("The long bed holds") < html.find("<img"));
  CHECK(html.find("src=\"http") == std::string::npos);
  CHECK(html.find("<yard>") == std::string::npos);
}
