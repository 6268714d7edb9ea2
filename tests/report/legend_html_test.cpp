#include "catch.hpp"

#include <lowspot/report/legend_html.hpp>

using namespace lowspot::report;

TEST_CASE("a legend names every class with its colour") {
  Scale scale;
  scale.title = "How <deep>";
  scale.bounds = {0.25, 1, 4};
  scale.colors = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
  const std::string html = legend_html(scale, "here");
  for (const char* part :
       {"id=\"here\"", "How &lt;deep&gt;", "0.25\u20131", "1\u20134", "4 and more", "#ff0000", "#0000ff"})
    CHECK_THAT(html, ContainsSubstring(part));
  CHECK(legend_html(scale).find("id=") == std::string::npos);
}
