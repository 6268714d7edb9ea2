#include <lowspot/site/table_reader.hpp>

#include "sample.hpp"

using namespace lowspot;
using namespace lowspot::site;
using sample::Fixture;

TEST_CASE("places are pairs of bare numbers, in metres inside") {
  Fixture f("a = [10, 20.5]\nb = [1]\nc = [\"1 ft\", 2]\nd = 3");
  CHECK(f.reader.point("a").x == Approx(3.048));
  CHECK(f.reader.point("a").y == Approx(6.2484));
  CHECK_THROWS_WITH(f.reader.point("b"), ContainsSubstring("expected [x, y]"));
  CHECK_THROWS_WITH(f.reader.point("c"), ContainsSubstring("bare number"));
  CHECK_THROWS_WITH(f.reader.point("d"), ContainsSubstring("expected [x, y]"));
}

TEST_CASE("lines have enough places and none twice running") {
  Fixture f("a = [[0, 0], [1, 0]]\nb = [[0, 0]]\nc = [[0, 0], [0, 0], [1, 1]]\nd = \"x\"");
  CHECK(f.reader.line_of_points("a").size() == 2);
  CHECK_THROWS_WITH(f.reader.line_of_points("b"), ContainsSubstring("a list of 1"));
  CHECK_THROWS_WITH(f.reader.line_of_points("c"), ContainsSubstring("twice running"));
  CHECK_THROWS_WITH(f.reader.line_of_points("d"), ContainsSubstring("square brackets"));
}

TEST_CASE("an outline is a simple polygon or a rectangle") {
  Fixture polygon("outline = [[0, 0], [10, 0], [10, 10], [0, 10], [0, 0]]");
  CHECK(polygon.reader.outline().size() == 4);
  Fixture rectangle("rectangle = [1, 2, 10, 20]");
  CHECK(area(rectangle.reader.outline()) == Approx(200 * 0.3048 * 0.3048));
  CHECK(bounds(rectangle.reader.outline()).high.y == Approx(22 * 0.3048));
  CHECK_THROWS_WITH(Fixture("outline = [[0, 0], [10, 10], [10, 0], [0, 10]]").reader.outline(),
                    ContainsSubstring("cannot be used"));
  CHECK_THROWS_WITH(Fixture("rectangle = [1, 2, -10, 20]").reader.outline(), ContainsSubstring("south-west"));
  CHECK_THROWS_WITH(
      Fixture("rectangle = [1, 2, 10, 20]\noutline = [[0, 0], [1, 0], [0, 1]]").reader.outline(),
      ContainsSubstring("both"));
}

TEST_CASE("breaklines are lists of lists of shots") {
  Fixture f("a = [[[0, 0, 1], [1, 0, 2]], [[3, 3, 3], [4, 4, 4], [5, 5, 5]]]\nb = [[0, 0, 1], [1, 0, 2]]");
  const auto lines = f.reader.breaklines("a");
  REQUIRE(lines.size() == 2);
  CHECK(lines[1].size() == 3);
  CHECK(lines[0][1].z == Approx(0.6096));
  CHECK_THROWS_WITH(f.reader.breaklines("b"), ContainsSubstring("brackets round it"));
}

TEST_CASE("shots and elevations") {
  Fixture f("a = [[0, 0, 1], [1, 0, 2], [0, 1, 3]]\nb = [98.4, 98.2]");
  CHECK(f.reader.shots("a", 3).at(2).z == Approx(0.9144));
  CHECK_THROWS_WITH(f.reader.shots("a", 4), ContainsSubstring("a list of 3"));
  CHECK(f.reader.elevations("b").at(1) == Approx(98.2 * 0.3048));
}

TEST_CASE("more places or tables than any yard has are refused") {
  std::string places, tables;
  for (int k = 0; k < 5001; ++k) {
    places += "[" + std::to_string(k) + ", 0],";
    tables += "{},";
  }
  Fixture f("a = [" + places + "]\noutline = [" + places + "]\nb = [" + tables + "]");
  CHECK_THROWS_WITH(f.reader.line_of_points("a"), ContainsSubstring("5001 entries"));
  CHECK_THROWS_WITH(f.reader.outline(), ContainsSubstring("5001 entries"));
  CHECK_THROWS_WITH(f.reader.tables("b"), ContainsSubstring("at most 5000"));
}
