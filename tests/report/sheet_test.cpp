#include "catch.hpp"

#include "report/sample_sheet.hpp"

using namespace lowspot::report;

TEST_CASE("sheets are about the recommended design, else the first, else the yard as it is") {
  auto all = sample::comparison();
  CHECK(sheet_design(all) == 1);
  auto other = all.designs[1];
  other.name = "other";
  all.designs.push_back(other);
  all.verdict.design = "other";
  CHECK(sheet_design(all) == 2);
  all.verdict.design = "as is"; // it clears by itself; what was proposed can still be looked at
  CHECK(sheet_design(all) == 1);
  all.designs.resize(1);
  CHECK(sheet_design(all) == 0);
}

TEST_CASE("long names are cut between letters, short ones kept") {
  CHECK(short_name("patio") == "patio");
  CHECK(short_name("abcdef", 4) == "abcd\u2026");
  CHECK(short_name("\u00e9\u00e9\u00e9\u00e9", 4) == "\u00e9\u00e9\u00e9\u00e9");
  // Between words where one ends not too far back.
  CHECK(short_name("two lines, a pump and more", 14) == "two lines, a\u2026");
  CHECK(short_name("two lines, a pump and more", 10) == "two lines\u2026");
  CHECK(short_name("a rhododendron", 10) == "a rhododen\u2026");
  CHECK(as_sentence("At the back") == "At the back.");
  CHECK(sentence_case("at the back") == "At the back");
  CHECK(sentence_case("\u00e9tage") == "\u00e9tage");
  CHECK(sentence_case("").empty());
  CHECK(as_sentence(short_name("At the back of it", 12)) == "At the back\u2026");
  CHECK(short_name("\u00e9\U0001F33F\u00e9\u00e9\u00e9", 2) == "\u00e9\U0001F33F\u2026");
  CHECK(at_most({"a", "b", "c"}, 3).size() == 3);
  CHECK(at_most({"a", "b", "c", "d"}, 3).back() == "and 2 more: see report.html");
  CHECK(at_most({"a", "b", "c", "d"}, 3, "takeoff.html").back() == "and 2 more: see takeoff.html");
}

TEST_CASE("a table that is too long ends with how many rows more there are, on which page") {
  Table table{"", {"name", "figure"}, {{"a", "1"}, {"b", "2"}, {"c", "3"}}, {}};
  keep_rows(table, 3);
  CHECK(table.rows.size() == 3);
  keep_rows(table, 2, "crew.html");
  REQUIRE(table.rows.size() == 2);
  CHECK(table.rows[1] == std::vector<std::string>{"and 2 more: see crew.html", ""});
}

TEST_CASE("what does not fit ends with a whole sentence") {
  CHECK(whole_sentences("It works. It is dry.", 40) == "It works. It is dry.");
  CHECK(whole_sentences("It works. It is dry.", 15) == "It works.");
  CHECK(whole_sentences("It works", 4) == "It\u2026");
}

TEST_CASE("a sheet on a phone keeps its columns and leaves out those that are filled in with a pencil") {
  sample::SheetMaker maker;
  CHECK_THAT(
      sheet_html(maker.scene(), "t", ""),
      ContainsSubstring("max-width:40rem){main tbody th,main td:not(.n),main thead th.n{min-width:0}") &&
          ContainsSubstring(":nth-last-child(-n+2){display:none}"));
}

TEST_CASE("a sheet is a page by itself, in large or small type") {
  sample::SheetMaker maker;
  const SheetScene scene = maker.scene();
  const std::string page = sheet_html(scene, "A <title>", "<p>body</p>");
  CHECK_THAT(page, ContainsSubstring("A &lt;title&gt;"));
  CHECK(page.find("class=\"tight\"") == std::string::npos);
  CHECK_THAT(sheet_html(scene, "t", "<p>body</p>", true), ContainsSubstring("class=\"tight\""));
  CHECK(page.find("http") == page.find("http-equiv"));
}
