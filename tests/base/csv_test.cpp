#include "catch.hpp"

#include <lowspot/base/csv.hpp>
#include <lowspot/base/error.hpp>

using namespace lowspot;

TEST_CASE("A table with byte-order mark, remarks, blank lines and both line ends") {
  const CsvTable table = parse_csv(
      "\xEF\xBB\xBF# made by hand\r\n\r\n X , Elevation,note\r\n1,2.5,a\n\n# more\n,,\n-1e3, +4 ,\n",
      "t.csv");
  CHECK(table.columns == std::vector<std::string>{"x", "elevation", "note"});
  CHECK(table.header_line == 3);
  REQUIRE(table.rows.size() == 2);
  CHECK(table.rows[0].line == 4);
  CHECK(table.rows[1].line == 8);
  CHECK(table.number(table.rows[0], "elevation") == 2.5);
  CHECK(table.number(table.rows[1], "x") == -1000);
  CHECK(table.number(table.rows[1], "elevation") == 4);
  CHECK(table.text(table.rows[1], "note") == "");
  CHECK(table.text(table.rows[1], "absent") == "");
  CHECK(table.number_or(table.rows[1], "note", 7) == 7);
  CHECK(table.number_or(table.rows[1], "absent", 8) == 8);
  CHECK(table.column("note") == 2);
  CHECK(table.column("absent") == -1);
}

TEST_CASE("Quoted cells hold separators, quotes and line ends; feet and inches need no quotes") {
  const CsvTable table =
      parse_csv("a,b,c\n\"x, y\",\"say \"\"hi\"\"\",6' 4 3/8\"\n\"two\nlines\",2,3\nlast,2\n", "t.csv");
  REQUIRE(table.rows.size() == 3);
  CHECK(table.text(table.rows[0], "a") == "x, y");
  CHECK(table.text(table.rows[0], "b") == "say \"hi\"");
  CHECK(table.text(table.rows[0], "c") == "6' 4 3/8\"");
  CHECK(table.text(table.rows[1], "a") == "two\nlines");
  CHECK(table.rows[2].line == 5);
  CHECK(table.text(table.rows[2], "c") == "");
}

TEST_CASE("Spreadsheets that separate by semicolon or tab") {
  CHECK(parse_csv("a;b\n1;2\n", "t").number(parse_csv("a;b\n1;2\n", "t").rows[0], "b") == 2);
  const CsvTable tabs = parse_csv("a\tb\n1\t\n", "t");
  CHECK(tabs.number(tabs.rows[0], "a") == 1);
  CHECK(tabs.text(tabs.rows[0], "b") == "");
}

TEST_CASE("A row that begins with # is a remark, unless it may be a row of that name") {
  for (const char* remark : {"# 7,10,20", "#7 was shot twice", "#, ,", "#7;10;20", "# a, b, c"})
    CHECK(parse_csv("point,x,y\n1,2,3\n" + std::string(remark) + "\n", "t.csv").rows.size() == 1);
  CHECK(parse_csv("#7,10,20\npoint,x,y\n1,2,3\n", "t.csv").rows.size() == 1); // above the header
  for (const char* row : {"#7,10,20", "#TP1,10,20", "  #7,,20"})
    CHECK_THROWS_WITH(parse_csv("point,x,y\n1,2,3\n" + std::string(row) + "\n", "t.csv"),
                      ContainsSubstring("t.csv:3") && ContainsSubstring("take the # off"));
}

TEST_CASE("Damaged tables are refused with file and line") {
  CHECK_THROWS_WITH(parse_csv("", "t.csv"), ContainsSubstring("t.csv") && ContainsSubstring("empty table"));
  CHECK_THROWS_WITH(parse_csv("# only a remark\n", "t.csv"), ContainsSubstring("empty table"));
  CHECK_THROWS_WITH(parse_csv("a,b\n", "t.csv"),
                    ContainsSubstring("t.csv:1") && ContainsSubstring("header row only"));
  CHECK_THROWS_WITH(parse_csv("a,b\n\"x,1\n", "t.csv"),
                    ContainsSubstring("t.csv:2") && ContainsSubstring("never closed"));
  CHECK_THROWS_WITH(parse_csv("a,b\n\"x\"y,1\n", "t.csv"), ContainsSubstring("after a closing quote"));
  CHECK_THROWS_WITH(parse_csv("a,b\n1,2,5\n", "t.csv"),
                    ContainsSubstring("t.csv:2") && ContainsSubstring("more cells"));
  CHECK_THROWS_WITH(parse_csv("a,A\n1,2\n", "t.csv"), ContainsSubstring("twice"));
  CHECK_THROWS_WITH(parse_csv("0,0,98\n64,0,98.2\n", "t.csv"),
                    ContainsSubstring("t.csv:1") && ContainsSubstring("numbers in the first row"));
}

TEST_CASE("What is not a plain number is refused with file, line and column") {
  const CsvTable table = parse_csv("a;b\n3 in;1,5\nnan;\n+-4;+4\n", "t.csv");
  CHECK_THROWS_WITH(table.number(table.rows[2], "a"), ContainsSubstring("t.csv:4: a"));
  CHECK(table.number(table.rows[2], "b") == 4);
  CHECK_THROWS_WITH(table.number(table.rows[0], "a"),
                    ContainsSubstring("t.csv:2: a") && ContainsSubstring("3 in"));
  CHECK_THROWS_WITH(table.number(table.rows[0], "b"), ContainsSubstring("point"));
  CHECK_THROWS_AS(table.number(table.rows[1], "a"), InputError);
  CHECK_THROWS_WITH(table.number(table.rows[1], "b"), ContainsSubstring("empty cell"));
  CHECK_THROWS_WITH(table.number(table.rows[1], "c"), ContainsSubstring("no such column"));
}

TEST_CASE("a small file of a great many empty cells is refused before it is cut up", "[csv]") {
  CHECK_THROWS_WITH(parse_csv("a,b\n" + std::string(12'000'000, ','), "t.csv"),
                    ContainsSubstring("1.2e7 cells") && ContainsSubstring("GB"));
}
