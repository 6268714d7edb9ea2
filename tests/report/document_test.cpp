#include "catch.hpp"

#include <lowspot/report/document.hpp>

using namespace lowspot::report;

TEST_CASE("a page that stands alone shows its title as typed and allows no script and no fetching") {
  const std::string html = document_html({"A <b> & \"c\"", "<p>body</p>", "1.0", true, ".x{}"});
  CHECK_THAT(html, ContainsSubstring("<title>A &lt;b&gt; &amp; &quot;c&quot;</title>"));
  CHECK_THAT(html, ContainsSubstring("default-src 'none'"));
  CHECK_THAT(html, ContainsSubstring("<p>body</p>"));
  CHECK(html.find("<script") == std::string::npos);
  CHECK(html.find("script-src") == std::string::npos);
}
