#include "catch.hpp"

#include <string>

#include <lowspot/base/csv.hpp>
#include <lowspot/base/csv_text.hpp>

using namespace lowspot;

TEST_CASE("text in tables cannot break them or run as a formula", "[csv_text]") {
  CHECK(csv_text("plain") == "plain");
  CHECK(csv_text("a,b") == "\"a,b\"");
  CHECK(csv_text("a;b") == "\"a;b\"");
  CHECK(csv_text("3\" pipe") == "\"3\"\" pipe\"");
  CHECK(csv_text("two\nlines") == "\"two\nlines\"");
  CHECK(csv_text("\tcmd") == "\"'\tcmd\"");
  for (const std::string start : {"=", "+", "-", "@"})
    CHECK(csv_text(start + "cmd()") == "'" + start + "cmd()");
}

TEST_CASE("what is written so is read back as it was", "[csv_text]") {
  for (const std::string text : {"plain", "a,b;c", "6' 4\"", "\"quoted\"", "two\nlines", "a,\"b\"\n"})
    CHECK(parse_csv("x,y\n" + csv_text(text) + ",1\n", "t.csv").rows.at(0).cells.at(0) ==
          (text.back() == '\n' ? text.substr(0, text.size() - 1) : text));
}
