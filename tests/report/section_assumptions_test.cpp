#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("every default is listed with its tag, warnings first") {
  sample::PageMaker maker;
  maker.comparison.warnings.push_back("<b>");
  const std::string html = section("assumptions").html(maker.page());
  CHECK(html.find("topsoil depth is a guess") < html.find("soil.yard.tight_layer.conductivity"));
  CHECK_THAT(html, ContainsSubstring("&lt;b&gt;") && ContainsSubstring("<td>measured</td>") &&
                       ContainsSubstring("<div class=\"twice\">")); // two columns on paper
  maker.comparison.warnings.clear();
  maker.comparison.defaults.clear();
  CHECK_THAT(section("assumptions").html(maker.page()), ContainsSubstring("Every figure was given"));
}
