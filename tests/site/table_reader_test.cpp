#include <lowspot/site/table_reader.hpp>

#include "sample.hpp"

using namespace lowspot;
using namespace lowspot::site;
using sample::Fixture;

TEST_CASE("paths count from one through tables within tables") {
  Fixture f("[[design]]\n[[design]]\n[[design.run]]\ntrench = { width = \"1 ft\" }\n");
  const auto designs = f.reader.tables("design");
  REQUIRE(designs.size() == 2);
  const auto trench = designs[1].tables("run").at(0).table("trench");
  REQUIRE(trench);
  CHECK(trench->path("width") == "design[2].run[1].trench.width");
  CHECK(trench->where("width").line == 4);
}

TEST_CASE("text is trimmed, needs quotes and may not be empty") {
  Fixture f("a = \"  patio \"\nb = 3\nc = \" \"");
  CHECK(f.reader.text("a") == "patio");
  CHECK_THROWS_WITH(f.reader.text("b"), ContainsSubstring("site.toml:2: b: found 3"));
  CHECK_THROWS_WITH(f.reader.text("c"), ContainsSubstring("empty text"));
  CHECK_FALSE(f.reader.maybe_text("d"));
}

TEST_CASE("a missing key points at a misspelt one and its line") {
  Fixture f("name = \"a\"\n\noutlin = 1");
  CHECK_THROWS_WITH(f.reader.text("outline"), ContainsSubstring("site.toml:3: outline: found nothing") &&
                                                  ContainsSubstring("Is `outlin` meant to be `outline`?"));
  Fixture empty("");
  CHECK_THROWS_WITH(empty.reader.text("outline"), ContainsSubstring("found nothing"));
  Fixture other("name = \"a\"\nfloor = 3\nrectanglq = [0, 0, 1, 1]"); // which would have done in its place
  CHECK_THROWS_WITH(other.reader.outline(), ContainsSubstring("site.toml:3: outline: found nothing") &&
                                                ContainsSubstring("Is `rectanglq` meant to be `rectangle`?"));
}

TEST_CASE("unknown keys are refused with their line and the nearest known key") {
  Fixture f("name = \"a\"\n\nwidht = \"3 in\"");
  f.reader.text("name");
  f.reader.maybe_text("width");
  try {
    f.reader.done();
    FAIL("an unknown key was passed over");
  } catch (const InputError& error) {
    CHECK(error.where.line == 3);
    CHECK(error.where.key == "widht");
    CHECK_THAT(error.mend, ContainsSubstring("`width`"));
  }
}

TEST_CASE("words come from a list") {
  Fixture f("a = \"Opne\"\nb = \"WALL\"");
  CHECK_THROWS_WITH(f.reader.word("a", {"open", "wall"}), ContainsSubstring("Did you mean \"open\"?"));
  CHECK(f.reader.word("b", {"open", "wall"}) == "wall");
}

TEST_CASE("flags are bare") {
  Fixture f("a = true\nb = \"true\"");
  CHECK(f.reader.maybe_flag("a") == true);
  CHECK_THROWS_WITH(f.reader.maybe_flag("b"), ContainsSubstring("true or false"));
  CHECK_FALSE(f.reader.maybe_flag("c"));
}

TEST_CASE("single tables and lists of tables are told apart") {
  Fixture f("[storm]\n[[area]]\nname=\"a\"\n");
  CHECK_THROWS_WITH(f.reader.tables("storm"), ContainsSubstring("[[storm]]"));
  CHECK_THROWS_WITH(f.reader.table("area"), ContainsSubstring("single brackets"));
  CHECK(f.reader.tables("nothing").empty());
  CHECK_FALSE(f.reader.table_or_empty("nothing").has("a"));
}

TEST_CASE("warnings and assumptions carry file, line and key") {
  Fixture f("a = 1\nb = 2");
  f.reader.warn("b", "is odd");
  f.reader.assume("c", "6 in");
  CHECK(f.site.warnings.at(0) == "site.toml:2: b: is odd");
  CHECK(f.site.assumptions.at(0).key == "c");
  CHECK(f.site.assumptions.at(0).tag == "default");
}

TEST_CASE("values are shown as they stand in the file") {
  Fixture f("a = \"x\"\nb = 1\nc = 2.5\nd = true\ne = [1, 2]\nf = {}\ng = 2020-01-01");
  CHECK(shown(*f.reader.find("a")) == "\"x\"");
  CHECK(shown(*f.reader.find("b")) == "1");
  CHECK(shown(*f.reader.find("c")) == "2.5");
  CHECK(shown(*f.reader.find("d")) == "true");
  CHECK(shown(*f.reader.find("e")) == "a list of 2");
  CHECK(shown(*f.reader.find("f")) == "a table");
  CHECK(shown(*f.reader.find("g")) == "a date or time");
}

TEST_CASE("a warning is text, whatever the bytes of the folder's name") {
  Fixture table("a = 1\n");
  table.context.file = "caf\xe9/site.toml";
  table.reader.warn("a", "is odd");
  REQUIRE(table.site.warnings.size() == 1);
  CHECK(table.site.warnings[0] == "caf\uFFFD/site.toml:1: a: is odd");
}
