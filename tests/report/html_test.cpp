#include "catch.hpp"

#include <lowspot/report/html.hpp>

using namespace lowspot::report;

TEST_CASE("text cannot become markup") {
  CHECK(escape("<b a='1' c=\"2\"> & \x01\x02") == "&lt;b a=&#39;1&#39; c=&quot;2&quot;&gt; &amp; ");
  CHECK(escape("\u00e9\n") == "\u00e9\n");
  CHECK(escape_json("{\"a\":\"</script><!--\"}") == "{\"a\":\"\\u003c/script>\\u003c!--\"}");
}

TEST_CASE("base64 as in RFC 4648") {
  CHECK(base64("") == "");
  CHECK(base64("f") == "Zg==");
  CHECK(base64("fo") == "Zm8=");
  CHECK(base64("foo") == "Zm9v");
  CHECK(base64("foobar") == "Zm9vYmFy");
  CHECK(base64("\xff\xfe\xfd") == "//79");
}

TEST_CASE("a measure stays on one line") {
  CHECK(unbroken("1' 8 1/2\"") == "1'\u00a08\u00a01/2\"");
  CHECK(unbroken("2-year") == "2\u2011year");
}

TEST_CASE("a cell with a sentence in it is marked, so that it is given room on a phone") {
  const std::string sentence = "stands about 30 hours; agreed was at most about 24 hours";
  const std::string html = table_html({"", {"a", "b", "c"}, {{"x", sentence, "9"}, {"y", "yes", "9"}}, {1}});
  CHECK_THAT(html, ContainsSubstring("<td class=\"long\">" + sentence) && ContainsSubstring("<td>yes</td>"));
  CHECK_THAT(table_html({"", {"a", "b"}, {{"x", "4 in, deeper, under soil"}}, {1}}),
             ContainsSubstring("<td class=\"name\">4 in, deeper"));
  CHECK_THAT(table_html({"", {"a"}, {{"rose and lavender bed"}, {"bed"}}, {}}),
             ContainsSubstring("class=\"name\">rose") && ContainsSubstring("<th scope=\"row\">bed<"));
}

TEST_CASE("tables escape every cell and mark their heads") {
  const std::string html = table_html({"<cap>", {"<h>", "n"}, {{"<r>", "<1>"}}, {}});
  CHECK(html.find("<cap>") == std::string::npos);
  CHECK(html.find("<r>") == std::string::npos);
  CHECK_THAT(html, ContainsSubstring("<th scope=\"row\">&lt;r&gt;</th>") &&
                       ContainsSubstring("<td class=\"n\">&lt;1&gt;</td>"));
  CHECK(list({"<i>"}) == "<ul>\n<li>&lt;i&gt;</li>\n</ul>\n");
  CHECK(paragraph("a<b") == "<p>a&lt;b</p>\n");
}
