#include <lowspot/site/site_text.hpp>

#include "sample.hpp"

using namespace lowspot;

namespace {
InputError syntax_error(const std::string& text) {
  try {
    site::parse_site_text(text, "site.toml");
  } catch (const InputError& error) {
    return error;
  }
  FAIL("parsed: " << text);
  return InputError({}, "", "", "");
}
} // namespace

TEST_CASE("a missing file and a folder without a site file are told apart") {
  const sample::Folder folder;
  REQUIRE_THROWS_WITH(site::find_site_file(folder.path / "nowhere.toml"), ContainsSubstring("no such file"));
  REQUIRE_THROWS_WITH(site::find_site_file(folder.path), ContainsSubstring("without a site.toml"));
  folder.write("site.toml", "");
  CHECK(site::find_site_file(folder.path) == folder.path / "site.toml");
  CHECK(site::find_site_file(folder.path / "site.toml") == folder.path / "site.toml");
}

TEST_CASE("a line that cannot be read is named by its number, with a hint at what is wrong") {
  const InputError bare = syntax_error("[site]\nname = \"a\"\ndepth = 2.6 in\n");
  CHECK(bare.where.line == 3);
  CHECK(bare.where.key == "depth");
  CHECK(syntax_error("just some words = 3\n").where.key.empty());
  for (const char* figure : {"1e400", "99999999999999999999", "[1, 1e400]"}) {
    const InputError huge = syntax_error("[site]\nlevel = " + std::string(figure) + "\n");
    CHECK(huge.where.line == 2);
    CHECK(huge.where.key == "level");
    CHECK_THAT(huge.mend, ContainsSubstring("decimal point"));
  }
  CHECK_THAT(bare.mend, ContainsSubstring("depth = \"2.6 in\""));
  CHECK_THAT(syntax_error("kind = roof\n").mend, ContainsSubstring("need quotes"));
  CHECK_THAT(syntax_error("kind = \u201croof\u201d\n").mend, ContainsSubstring("straight"));
  CHECK_THAT(syntax_error("[area]\nname = \"a\"\n[area]\nname = \"b\"\n").mend,
             ContainsSubstring("[[area]]"));
  CHECK_THAT(syntax_error("a = 1\na = 2\n").mend, ContainsSubstring("twice"));
  CHECK_THAT(syntax_error("a = \n").mend, ContainsSubstring("missing"));
  CHECK_THAT(syntax_error("outline = [[0, 0], [1, 1]\nb = 2\n").mend, ContainsSubstring("racket"));
  CHECK_THAT(syntax_error("depth = \"6' 4\" 3/8\"\n").mend, ContainsSubstring("quote is open"));
  CHECK_THAT(syntax_error("just some words\n").mend, ContainsSubstring("key = value"));
}

TEST_CASE(
    "a heading below one of its parts, and lines that end in a carriage return alone, are told as such") {
  const InputError late = syntax_error("[[designs]]\n[[design.run]]\nname = \"a\"\n[[design]]\n");
  CHECK(late.where.line == 4);
  CHECK_THAT(late.mend, ContainsSubstring("misspelt"));
  CHECK_THAT(syntax_error("# a yard\r[site]\rname = \"a\"\r").mend, ContainsSubstring("carriage return"));
  CHECK_THAT(syntax_error("[site]\rname = \"a\"\r").mend, ContainsSubstring("carriage return"));
}

TEST_CASE("odd brackets end in an error, not in a crash") {
  for (const char* text :
       {"a = [,]", "a = [@", "[", "[[", "a = {", "=", "\xEF\xBB\xBF[", "a = \"\\u12\"", "[a.b"})
    CHECK_THROWS_AS(site::parse_site_text(text, "site.toml"), InputError);
}
