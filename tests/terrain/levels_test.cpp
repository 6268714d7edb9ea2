#include "catch.hpp"

#include <lowspot/terrain/levels.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
LevelBook reduced(const std::string& text, const LevelUnits& units = {}) {
  return reduce_levels(parse_csv(text, "levels.csv"), units);
}
std::string problem(const std::string& text) {
  return problem_of([&] { reduced(text); });
}
} // namespace

TEST_CASE("reduced levels come in metres, columns in any order", "[levels]") {
  const LevelBook book = reduced("note,elevation,y,x\npatio,100.5,20,10\n,99,0,0\nlow,98.25,5,40\n");
  CHECK_FALSE(book.rod_book);
  REQUIRE(book.shots.size() == 3);
  CHECK_THAT(book.shots[0].at.x, WithinAbs(3.048, 1e-12));
  CHECK_THAT(book.shots[0].at.y, WithinAbs(6.096, 1e-12));
  CHECK_THAT(book.shots[0].at.z, WithinAbs(100.5 * 0.3048, 1e-12));
  CHECK(book.shots[0].note == "patio");
  CHECK(book.shots[2].line == 4);
}

TEST_CASE("elevations may be in feet and inches, or in their own unit", "[levels]") {
  LevelBook book = reduced("x,y,elevation\n0,0,98' 6 1/2\"\n1,0,98-6\n0,1,99.0\n");
  CHECK_THAT(book.shots[0].at.z, WithinAbs((98 + 6.5 / 12) * 0.3048, 1e-12));
  CHECK_THAT(book.shots[1].at.z, WithinAbs(98.5 * 0.3048, 1e-12));
  LevelUnits units;
  units.readings = 1;
  book = reduced("x,y,elevation\n0,0,30\n1,0,30.1\n0,1,30.2\n", units);
  CHECK_THAT(book.shots[1].at.z, WithinAbs(30.1, 1e-12));
  CHECK_THAT(book.shots[1].at.x, WithinAbs(0.3048, 1e-12));
}

TEST_CASE("a decimal comma, which makes two cells of one number, is asked about", "[levels]") {
  const LevelBook book = reduced("x,y,elevation,note\n0,0,98,4\n1,0,98,6\n0,1,99.0,2\n1,1,98,patio 2\n");
  REQUIRE(book.warnings.size() == 1);
  CHECK_THAT(book.warnings[0], ContainsSubstring("levels.csv, line 2 and 1 more") &&
                                   ContainsSubstring("if 98.4 was meant, the ground is wrong there"));
  CHECK(reduced("x,y,elevation,note\n0,0,98.4,1\n1,0,98.6,2\n0,1,99.0,3\n").warnings.empty());
}

TEST_CASE("tables that cannot be used say where and why", "[levels]") {
  CHECK_THAT(problem("x,y,elevation\n0,0,1\n1,0,1\n"), ContainsSubstring("at least three"));
  CHECK_THAT(problem("x,y,elevation\n0,0,1\n1,0,high\n2,2,1\n"),
             ContainsSubstring("levels.csv:3: elevation"));
  CHECK_THAT(problem("x,y,elevation\n0,0,1\n1,0,\n2,2,1\n"), ContainsSubstring("empty cell"));
  CHECK_THAT(problem("x,y,elevation\n0,0,1\n1,o,2\n2,2,1\n"), ContainsSubstring("levels.csv:3: y"));
  CHECK_THAT(problem("x,y,elevatoin\n0,0,1\n1,0,2\n2,2,1\n"),
             ContainsSubstring("rename the column \"elevatoin\""));
  CHECK_THAT(problem("point,x,y,backsight,intermedate,foresight\nBM,0,0,4,,\n"),
             ContainsSubstring("\"intermediate\""));
  CHECK_THAT(problem("a,b\n0,0\n"), ContainsSubstring("no such column"));
  CHECK_THAT(problem("easting,y,elevation\n0,0,1\n"), ContainsSubstring("rename the column \"easting\""));
  CHECK_THAT(problem("x,y,z\n0,0,1\n"), ContainsSubstring("rename the column \"z\""));
  CHECK_FALSE(problem("").empty());
  CHECK_FALSE(problem("x,y,elevation\n").empty());
}

TEST_CASE("the site says where the table is and in what units", "[levels]") {
  site::Site site = plain_site(rectangle(0, 0, 10, 10), 1);
  site.units = "ft";
  site.unit = 0.3048;
  site.ground.levels = "by_site.csv";
  write_file("by_site.csv", "x,y,elevation\n0,0,30\n10,0,30.1\n0,10,30.2\n");
  CHECK_THAT(read_levels(site).shots[2].at.z, WithinAbs(30.2 * 0.3048, 1e-12));
  site.ground.levels_unit = 1;
  CHECK_THAT(read_levels(site).shots[2].at.z, WithinAbs(30.2, 1e-12));
  site.ground.levels = "absent.csv";
  CHECK_THAT(problem_of([&] { read_levels(site); }), ContainsSubstring("absent.csv"));
}
