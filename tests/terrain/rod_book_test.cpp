#include "catch.hpp"

#include <lowspot/terrain/rod_book.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
constexpr double foot = 0.3048;
const std::string header = "point,x,y,backsight,intermediate,foresight,note\n";
LevelBook reduced(const std::string& rows, const LevelUnits& units = {}) {
  return reduce_levels(parse_csv(header + rows, "levels.csv"), units);
}
double elevation(const LevelBook& book, const std::string& name) {
  for (const Shot& shot : book.shots)
    if (shot.name == name) return shot.at.z;
  return -1;
}
std::string problem(const std::string& rows) {
  return problem_of([&] { reduced(rows); });
}
bool any(const std::vector<std::string>& sentences, const std::string& part) {
  for (const std::string& sentence : sentences)
    if (sentence.find(part) != std::string::npos) return true;
  return false;
}
} // namespace

TEST_CASE("a decimal comma is asked for as a point", "[rod_book]") {
  const LevelUnits units;
  const auto of = [&](const std::string& table) {
    return problem_of([&] { reduce_levels(parse_csv(table, "levels.csv"), units); });
  };
  CHECK_THAT(of("point;x;y;backsight;intermediate;foresight\nBM;;;4,00;;\n"),
             ContainsSubstring("levels.csv:2") && ContainsSubstring("write the decimal mark as a point"));
  CHECK_THAT(of("x;y;elevation\n0;0;100,5\n"),
             ContainsSubstring("levels.csv:2") && ContainsSubstring("write the decimal mark as a point"));
  CHECK_THAT(of("x,y,elevation\n0,0,100\n"), ContainsSubstring("1 shot with x and y"));
}

TEST_CASE("a loop with a turning point is reduced and its misclosure spread by set-up", "[rod_book]") {
  const LevelBook book = reduced("BM,,,4.00,,,BM 100.00 door sill\n"
                                 "a,10,10,,5.00,,\n"
                                 "TP1,20,10,2.00,,3.00,\n"
                                 "b,30,20,,6.00,,\n"
                                 "BM,,,,,2.97,close\n");
  CHECK(book.rod_book);
  CHECK(book.setups == 2);
  REQUIRE(book.closures.size() == 1);
  CHECK_THAT(book.closures[0].misclosure, WithinAbs(0.03 * foot, 1e-12));
  CHECK_THAT(book.closures[0].allowed, WithinAbs(0.02 * foot * std::sqrt(2.0), 1e-12));
  CHECK(book.closures[0].setups == 2);
  CHECK_THAT(elevation(book, "a"), WithinAbs((99.00 - 0.015) * foot, 1e-12));
  CHECK_THAT(elevation(book, "TP1"), WithinAbs((101.00 - 0.015) * foot, 1e-12));
  CHECK_THAT(elevation(book, "b"), WithinAbs((97.00 - 0.03) * foot, 1e-12));
  CHECK(any(book.warnings, "miss \"BM\" by 0.03 ft"));
  REQUIRE(book.assumptions.size() == 1);
  CHECK_THAT(book.assumptions[0].value, ContainsSubstring("2 set-ups"));
}

TEST_CASE("a turning point may stand in two rows, and a good closure warns of nothing", "[rod_book]") {
  const LevelBook book = reduced("BM,0,0,4.00,,,BM = 98.50 in the ground\n"
                                 "TP,20,10,,,3.00,\n"
                                 "tp,20,10,2.00,,,\n"
                                 "b,30,20,,6.00,,\n"
                                 "bm,0,0,,,3.00,ground\n");
  CHECK(book.setups == 2);
  REQUIRE(book.closures.size() == 1);
  CHECK_THAT(book.closures[0].misclosure, WithinAbs(0, 1e-12));
  CHECK(book.warnings.empty());
  CHECK_THAT(elevation(book, "b"), WithinAbs(95.5 * foot, 1e-12));
  CHECK_THAT(elevation(book, "BM"), WithinAbs(98.5 * foot, 1e-12));
}

TEST_CASE("the benchmark's elevation: column, note, or 100 as an assumption", "[rod_book]") {
  const std::string rows = "x1,1,0,,5.00,,\nx2,0,1,,5.50,,\nx3,2,2,,5.25,,\n";
  LevelBook book = reduced("sill,,,4.00,,,\n" + rows);
  CHECK_THAT(elevation(book, "x1"), WithinAbs(99 * foot, 1e-12));
  REQUIRE(book.assumptions.size() == 1);
  CHECK(book.assumptions[0].tag == "default");
  CHECK(any(book.warnings, "no known point was shot again"));
  book = reduce_levels(parse_csv("point,x,y,elevation,backsight,intermediate,foresight\nsill,,,52.5,4.00,,\n"
                                 "x1,1,0,,,5.00,\nx2,0,1,,,5.5,\nx3,2,2,,,5.25,\n",
                                 "levels.csv"),
                       {});
  CHECK_THAT(elevation(book, "x1"), WithinAbs(51.5 * foot, 1e-12));
  CHECK(book.assumptions.empty());
}

TEST_CASE("a check shot from the one set-up corrects what was shot from it", "[rod_book]") {
  const LevelBook book =
      reduced("BM,,,4.00,,,BM 100.00\na,1,0,,5.00,,\nb,0,1,,5.00,,\nBM,,,,3.99,,\nc,2,2,,5.00,,\n");
  REQUIRE(book.closures.size() == 1);
  CHECK_THAT(book.closures[0].misclosure, WithinAbs(0.01 * foot, 1e-12));
  CHECK_THAT(elevation(book, "a"), WithinAbs(98.99 * foot, 1e-12));
  CHECK_THAT(elevation(book, "c"), WithinAbs(98.99 * foot, 1e-12));
  REQUIRE(book.assumptions.size() == 1);
  CHECK_THAT(book.assumptions[0].value, ContainsSubstring("over 1 set-up") && !ContainsSubstring("set-ups"));
}

TEST_CASE("feet and inches, metres, and a mixture", "[rod_book]") {
  LevelBook book =
      reduced("BM,,,4' 0\",,,BM 100.00\na,1,0,,5-3 1/2,,\nb,0,1,,\"5' 0 1/8\"\"\",,\nc,2,2,,4' 11 7/8\",,\n");
  CHECK_THAT(elevation(book, "a"), WithinAbs((104 - 5 - 3.5 / 12) * foot, 1e-12));
  CHECK_THAT(elevation(book, "b"), WithinAbs((104 - 5 - 0.125 / 12) * foot, 1e-12));
  CHECK_FALSE(any(book.warnings, "tenths"));
  book = reduced("BM,,,4' 0\",,,BM 100.00\na,1,0,,5.3,,\nb,0,1,,5-0,,\nc,2,2,,5-0,,\n");
  CHECK(any(book.warnings, "line 3 is read in decimals and line 2"));
  LevelUnits metric;
  metric.readings = metric.coordinates = 1;
  book = reduced("BM,,,1.500,,,BM 10.000\na,1,0,,1.250,,\nb,0,1,,2,,\nc,2,2,,2.1,,\n", metric);
  CHECK_THAT(elevation(book, "a"), WithinAbs(10.25, 1e-12));
  metric.readings = 0.0254; // a rod in inches: the benchmark is still in the site's unit
  book = reduced("BM,,,50,,,BM 10.000\na,1,0,,60,,\nb,0,1,,61,,\nc,2,2,,62,,\n", metric);
  CHECK_THAT(elevation(book, "a"), WithinAbs(10 - 0.254, 1e-12));
}

TEST_CASE("a book that does not hang together is refused where it breaks", "[rod_book]") {
  const std::string start = "BM,,,4.00,,,BM 100.00\n";
  CHECK_THAT(problem("a,1,0,,5.00,,\n" + start), ContainsSubstring("levels.csv:2: found a reading before"));
  CHECK_THAT(problem(start + "a,1,0,,5.0O,,\n"), ContainsSubstring("levels.csv:3: intermediate"));
  CHECK_THAT(problem(start + "a,1,0,,-5.00,,\n"), ContainsSubstring("\"-5.00\""));
  CHECK_THAT(problem(start + "TP9,1,0,3.00,,,\n"), ContainsSubstring("\"TP9\", which has no elevation yet"));
  CHECK_THAT(problem(start + "a,1,0,,5.00,4.00,\n"), ContainsSubstring("in one row"));
  CHECK_THAT(problem(start + "a,1,0,,,,\n"), ContainsSubstring("a place without a reading"));
  CHECK_THAT(problem(start + "a,1,0,,5,,\nb,1,,,5,,\nc,1,1,,5,,\n"), ContainsSubstring("levels.csv:4: y"));
  CHECK_THAT(problem(start + "a,1,0,,5,,\nBM,,,,,4.0,BM 101.00\n"), ContainsSubstring("a second elevation"));
  CHECK_THAT(problem(start + "a,1,0,,5,,\nb,2,0,,5,,\n"), ContainsSubstring("at least three"));
}

TEST_CASE("an instrument that was moved without a backsight is found", "[rod_book]") {
  const std::string start = "BM,,,4.00,,,BM 100.00\na,1,0,,5.00,,\n";
  const std::string moved = problem(start + "TP1,5,5,,,3.00,\nb,2,0,,5,,\n");
  CHECK_THAT(moved, ContainsSubstring("levels.csv:4: foresight"));
  CHECK_THAT(moved, ContainsSubstring("without a backsight after it"));
  CHECK_THAT(moved, ContainsSubstring("line 5"));
  CHECK_THAT(problem(start + "TP1,5,5,,,3.00,\nBM,,,,,4,\n"), ContainsSubstring("without a backsight"));
  // At the end of the book nothing hangs on it; on a benchmark it closes; without any intermediate reading
  // the column is used for all sights.
  CHECK(problem(start + "b,2,0,,5,,\nTP1,5,5,,,3.00,\n").empty());
  CHECK(problem(start + "BM,,,,,4.00,\nb,2,0,,5,,\nc,2,2,,5,,\n").empty());
  CHECK(problem("BM,,,4.00,,,BM 100.00\na,1,0,,,5.00,\nb,2,0,,,5.00,\nc,2,2,,,5.00,\n").empty());
}

TEST_CASE("more ways in which a book does not hang together", "[rod_book]") {
  const std::string start = "BM,,,4.00,,,BM 100.00\nTP1,1,0,,,5.00,\n";
  CHECK_THAT(problem(start + "TPI,1,0,4.00,,,\n"), ContainsSubstring("did you mean \"tp1\"?"));
  CHECK_THAT(problem(start + "TP1,1,0,4.00,3.00,,\n"), ContainsSubstring("a backsight and an intermediate"));
  CHECK_THAT(problem("BM,,,4.00,,,BM 100.00\na,1,0,,1325,,\n"), ContainsSubstring("levels_units"));
}

TEST_CASE("a loop may close on another known point", "[rod_book]") {
  const LevelBook book = reduce_levels(
      parse_csv("point,x,y,backsight,intermediate,foresight,elevation\nBM1,,,4.00,,,100.00\na,1,0,,5.00,,\n"
                "TP1,4,4,6.00,,3.00,\nb,2,0,,6.00,,\nBM2,9,9,,,4.02,103.00\nc,9,1,,5.00,,\n",
                "levels.csv"),
      {});
  REQUIRE(book.closures.size() == 1);
  CHECK_THAT(book.closures[0].misclosure, WithinAbs(-0.02 * foot, 1e-12));
  CHECK(book.closures[0].spread);
  CHECK(book.closures[0].from_setup == 1);
  CHECK_THAT(elevation(book, "a"), WithinAbs(99.01 * foot, 1e-12));
  CHECK_THAT(elevation(book, "b"), WithinAbs(101.02 * foot, 1e-12));
  CHECK_THAT(elevation(book, "BM2"), WithinAbs(103 * foot, 1e-12));
  CHECK_THAT(book.sightings[1].adjusted, WithinAbs(0.01 * foot, 1e-12));
  REQUIRE(book.set_ups.size() == 2);
  CHECK(book.set_ups[1].on == "TP1");
  CHECK_THAT(book.set_ups[1].instrument, WithinAbs(107 * foot, 1e-12));
}

TEST_CASE("a misclosure that is no sum of small errors is not spread over good set-ups", "[rod_book]") {
  const LevelBook book = reduced("BM,,,4.00,,,BM 100.00\na,1,0,,5.00,,\nTP1,4,4,6.00,,3.00,\nb,2,0,,6.00,,\n"
                                 "c,5,0,,6.00,,\nBM,,,,,6.00,\n");
  REQUIRE(book.closures.size() == 1);
  CHECK_THAT(book.closures[0].misclosure, WithinAbs(1.0 * foot, 1e-12));
  CHECK_FALSE(book.closures[0].spread);
  CHECK_THAT(elevation(book, "a"), WithinAbs(99.00 * foot, 1e-12));
  CHECK(any(book.warnings, "not spread"));
}

TEST_CASE("millimetres, centimetres and eighths give one ground", "[rod_book]") {
  const LevelUnits millimetres{1, 0.001, "m"}, centimetres{1, 0.01, "m"}, metres{1, 1, "m"};
  const LevelBook a =
      reduced("BM,,,1500,,,BM 10.000\na,1,0,,1250,,\nb,0,1,,2000,,\nc,2,2,,2100,,\n", millimetres);
  const LevelBook b =
      reduced("BM,,,150,,,BM 10.000\na,1,0,,125,,\nb,0,1,,200,,\nc,2,2,,210,,\n", centimetres);
  const LevelBook c =
      reduced("BM,,,1.5,,,BM 10.000\na,1,0,,1250 mm,,\nb,0,1,,200 cm,,\nc,2,2,,2.1,,\n", metres);
  for (const LevelBook* book : {&a, &b, &c}) {
    CHECK_THAT(elevation(*book, "a"), WithinAbs(10.25, 1e-12));
    CHECK_THAT(elevation(*book, "c"), WithinAbs(9.4, 1e-12));
  }
  const LevelBook feet =
      reduced("BM,,,4-0-0,,,BM 100\na,1,0,,4-6-3,,\nb,0,1,,4.6.3,,\nc,2,2,,4' 6 3/8\",,\n");
  for (const char* name : {"a", "b", "c"})
    CHECK_THAT(elevation(feet, name), WithinAbs((100 - 6.375 / 12) * foot, 1e-12));
}

TEST_CASE("a book in which inches stand after the point throughout is suspected", "[rod_book]") {
  const std::string inches =
      "BM,,,4.02,,,BM 100\na,1,0,,5.11,,\nb,2,0,,5.08,,\nc,3,0,,4.10,,\nd,0,1,,5.07,,\n"
      "e,1,1,,4.01,,\nf,2,1,,4.09,,\ng,3,1,,5.05,,\nh,0,2,,4.06,,\n";
  CHECK(any(reduced(inches).warnings, "4.11 for 4' 11\""));
  CHECK_FALSE(any(reduced(inches + "i,1,2,,4.57,,\n").warnings, "4.11 for"));
}

TEST_CASE("a point beside a numbered benchmark is no benchmark", "[rod_book]") {
  const LevelBook book = reduced("BM 2,,,4.00,,,BM 100.00\na,1,0,,5.00,,beside BM 2\nb,0,1,,5.00,,\n"
                                 "c,2,2,,5.00,,\n");
  CHECK_THAT(elevation(book, "a"), WithinAbs(99 * foot, 1e-12));
  CHECK(book.closures.empty());
}

TEST_CASE("a backsight on a known point begins a chain of its own", "[rod_book]") {
  const LevelBook book = reduced("BM,,,4.00,,,BM 100.00\na,1,0,,5.00,,\nBM,,,3.50,,,\nb,0,1,,6.00,,\n"
                                 "c,2,2,,6.00,,\nBM,,,,,3.44,\n");
  REQUIRE(book.closures.size() == 1);
  CHECK(book.closures[0].setups == 1);
  CHECK(book.closures[0].from_setup == 2);
  CHECK_THAT(book.closures[0].misclosure, WithinAbs(0.06 * foot, 1e-12));
  CHECK_THAT(elevation(book, "a"), WithinAbs(99.00 * foot, 1e-12));
  CHECK_THAT(elevation(book, "b"), WithinAbs(97.44 * foot, 1e-12));
}

TEST_CASE("a turning point moves alike in one row and in two", "[rod_book]") {
  const std::string begin = "BM,,,4.00,,,BM 100.00\na,10,10,,5.00,,\n";
  const std::string end = "b,30,20,,6.00,,\nBM,,,,,2.97,close\n";
  const LevelBook one = reduced(begin + "TP1,20,10,2.00,,3.00,\n" + end);
  const LevelBook two = reduced(begin + "TP1,20,10,,,3.00,\nTP1,20,10,2.00,,,\n" + end);
  CHECK_THAT(elevation(one, "TP1"), WithinAbs((101.00 - 0.015) * foot, 1e-12));
  int seen = 0;
  for (const Shot& shot : two.shots)
    if (shot.name == "TP1") {
      CHECK_THAT(shot.at.z, WithinAbs((101.00 - 0.015) * foot, 1e-12));
      ++seen;
    }
  CHECK(seen == 2);
  CHECK_THAT(elevation(two, "b"), WithinAbs(elevation(one, "b"), 1e-12));
}

TEST_CASE("elevations of a rod book are in the site's unit, whatever the rod's", "[rod_book]") {
  LevelUnits units; // a site in feet
  units.readings = 1;
  const std::string rows = "a,1,0,,1.500,,\nb,0,1,,1.600,,\nc,2,2,,1.700,,\n";
  for (const char* benchmark : {"BM,,,1.200,,,BM 100.00\n", "BM,,,1.200,,,\n"}) {
    const LevelBook book = reduced(benchmark + rows, units);
    CHECK_THAT(elevation(book, "a"), WithinAbs(100 * foot + 1.2 - 1.5, 1e-12));
  }
  const LevelBook book =
      reduce_levels(parse_csv("point,x,y,backsight,intermediate,foresight,elevation\nBM,,,1.2,,,98.5\n"
                              "a,1,0,,1.5,,\nb,0,1,,1.6,,\nspot,2,2,,,,97\n",
                              "levels.csv"),
                    units);
  CHECK_THAT(elevation(book, "a"), WithinAbs(98.5 * foot - 0.3, 1e-12));
  CHECK_THAT(elevation(book, "spot"), WithinAbs(97 * foot, 1e-12));
}

TEST_CASE("a known point on a thing is no ground; where that is not said, it is asked", "[rod_book]") {
  const std::string rows = "a,1,0,,5.00,,\nb,0,1,,5.00,,\nc,2,2,,5.00,,\n";
  const LevelBook sill =
      reduced("BM,5,5,4.00,,,BM 100.00 door sill\n" + rows + "BM,5,5,,,4.00,door sill again\n");
  CHECK(sill.shots.size() == 3);
  REQUIRE(sill.warnings.size() == 1);
  CHECK_THAT(sill.warnings[0], ContainsSubstring("line 2") && ContainsSubstring("left out"));
  const LevelBook bare = reduced("BM,5,5,4.00,,,BM 100.00\n" + rows + "BM,,,,,4.00,\n");
  CHECK(bare.shots.size() == 4);
  REQUIRE(bare.warnings.size() == 1);
  CHECK_THAT(bare.warnings[0], ContainsSubstring("taken for ground"));
  CHECK(reduced("BM,5,5,4.00,,,BM 100.00 on the ground\n" + rows + "BM,,,,,4.00,\n").warnings.empty());
}

TEST_CASE("a note names a benchmark, not a piece of ground", "[rod_book]") {
  const LevelBook book =
      reduce_levels(parse_csv("point,x,y,backsight,intermediate,foresight,elevation,note\nBM,,,4.00,,,100,\n"
                              ",1,0,,,,97.0,lawn\n,0,1,,5.00,,,lawn\n,2,2,,6.00,,,lawn\n",
                              "levels.csv"),
                    {});
  REQUIRE(book.shots.size() == 3);
  CHECK(book.closures.empty());
  CHECK_THAT(book.shots[0].at.z, WithinAbs(97 * foot, 1e-12));
  CHECK_THAT(book.shots[1].at.z, WithinAbs(99 * foot, 1e-12));
  CHECK_THAT(book.shots[2].at.z, WithinAbs(98 * foot, 1e-12));
}
