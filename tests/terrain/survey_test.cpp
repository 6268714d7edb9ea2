#include "catch.hpp"

#include <lowspot/terrain/survey.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
LevelBook shots(const std::vector<Point3>& points) {
  LevelBook book;
  book.file = "levels.csv";
  for (std::size_t k = 0; k < points.size(); ++k)
    book.shots.push_back({"p" + std::to_string(k), points[k], "", static_cast<int>(k) + 2});
  return book;
}
} // namespace

TEST_CASE("breaklines become edges between their corners", "[survey]") {
  site::Site site = plain_site(rectangle(0, 0, 10, 10), 1);
  site.ground.breaklines = {{{0, 0, 1}, {3, 4, 2}, {3, 9, 2}}, {{8, 1, 0}, {9, 1, 0}}};
  const Survey survey = gather_survey({}, site);
  CHECK(survey.points.size() == 5);
  CHECK(survey.edges.size() == 3);
  CHECK(triangulate(survey).fixed.size() == 3);
  CHECK(survey.warnings.empty());
}

TEST_CASE("two shots on one place are averaged, and named when they disagree", "[survey]") {
  const site::Site site = plain_site(rectangle(0, 0, 10, 10), 1);
  Survey survey = gather_survey(shots({{0, 0, 1}, {5, 0, 1}, {0, 5, 1}, {5.004, 0.004, 1.04}}), site);
  CHECK(survey.points.size() == 3);
  CHECK(survey.warnings.empty());
  CHECK_THAT(survey.points[1].at.z, WithinAbs(1.02, 1e-12));
  survey = gather_survey(shots({{0, 0, 1}, {5, 0, 1}, {0, 5, 1}, {5, 0, 1.06}}), site);
  REQUIRE(survey.warnings.size() == 1);
  CHECK_THAT(survey.warnings[0], ContainsSubstring("\"p1\" (levels.csv:3) and \"p3\" (levels.csv:5)"));
}

TEST_CASE("shots that make no ground are refused", "[survey]") {
  const site::Site site = plain_site(rectangle(0, 0, 10, 10), 1);
  auto problem = [&](const std::vector<Point3>& points) {
    return problem_of([&] { gather_survey(shots(points), site); });
  };
  CHECK_THAT(problem({{0, 0, 1}, {1, 1, 1}, {1, 1, 1}, {4, 4, 2}}), ContainsSubstring("all lie on one line"));
  CHECK_THAT(problem({{0, 0, 1}, {1, 1, 1}, {1, 1, 1}}), ContainsSubstring("at least three"));
  CHECK_THAT(problem({{500, 500, 1}, {510, 500, 1}, {500, 510, 1}}), ContainsSubstring("near the yard"));
  CHECK(problem({{-5, -5, 1}, {15, -5, 1}, {0, 15, 1}}).empty());
  CHECK_THAT(problem_of([&] { gather_survey({}, site); }), ContainsSubstring("0 different places"));
}

TEST_CASE("elevations as far apart as the yard is wide are said to be odd", "[survey]") {
  const site::Site site = plain_site(rectangle(0, 0, 10, 10), 1);
  const Survey missed =
      gather_survey(shots({{0, 0, 30}, {10, 0, 30.1}, {10, 10, 0}, {0, 10, 30.2}, {5, 5, 30}}), site);
  REQUIRE(missed.warnings.size() == 1);
  CHECK_THAT(missed.warnings[0], ContainsSubstring("falls by 30.2 m over a yard 14.1 m across") &&
                                     ContainsSubstring("(levels.csv:5) to \"p2\" (levels.csv:4)"));
  // A steep hillside, one in three, is not.
  CHECK(
      gather_survey(shots({{0, 0, 30}, {10, 0, 30}, {10, 10, 33.3}, {0, 10, 33.3}}), site).warnings.empty());
}

TEST_CASE("one shot far off the yard is a slip: said, and refused where it can be nothing else", "[survey]") {
  site::Site site = plain_site(rectangle(0, 0, 10, 10), 1);
  site.units = "m";
  const std::vector<Point3> near = {{0, 0, 1}, {10, 0, 1}, {0, 10, 1}, {10, 10, 1}};
  const auto with = [&](const Point3& stray) {
    std::vector<Point3> points = near;
    points.push_back(stray);
    return shots(points);
  };
  CHECK(gather_survey(with({35, 5, 1.1}), site).warnings.empty()); // the ditch across the road
  const Survey odd = gather_survey(with({120, 5, 1.1}), site);     // for 12
  REQUIRE(odd.warnings.size() == 1);
  CHECK_THAT(odd.warnings[0], ContainsSubstring("\"p4\" (levels.csv:6) lies at 120, 5, 110 m off the yard"));
  for (const double far : {5000.0, 1e9, 1e200, 1e308})
    for (const double sign : {-1.0, 1.0}) {
      const std::string error = problem_of([&] { gather_survey(with({5, sign * far, 1.1}), site); });
      CHECK_THAT(error, ContainsSubstring("levels.csv:6: x, y: found \"p4\" at"));
      CHECK_THAT(error, ContainsSubstring("off the yard"));
    }
  site.ground.breaklines = {{{0, 5, 1}, {1e9, 5, 1}}};
  CHECK_THAT(problem_of([&] { gather_survey(shots(near), site); }),
             ContainsSubstring("ground.breaklines: found \"breakline 1\""));
}

TEST_CASE("points are picked out with the edges between them", "[survey]") {
  Survey survey;
  for (int k = 0; k < 4; ++k) survey.points.push_back({"", {1.0 * k, 0, 0}, k, true});
  survey.edges = {{0, 1}, {1, 3}, {2, 3}};
  std::vector<std::size_t> from;
  const Survey left = points_that(
      survey, [](const SurveyPoint& point) { return point.line != 2; }, &from);
  CHECK(left.points.size() == 3);
  CHECK(left.edges == std::vector<std::array<int, 2>>{{0, 1}, {1, 2}});
  CHECK(from == std::vector<std::size_t>{0, 1, 3});
}

TEST_CASE("a table with x and y exchanged is said to be odd, in a long yard and by the house in a square one",
          "[survey]") {
  site::Site site = plain_site(rectangle(0, 0, 10, 20), 1);
  site.units = "m";
  std::vector<Point3> right, wrong;
  for (int j = 0; j <= 20; j += 2)
    for (int i = 0; i <= 10; i += 5) {
      right.push_back({1.0 * i, 1.0 * j, 1});
      wrong.push_back({1.0 * j, 1.0 * i, 1});
    }
  CHECK(gather_survey(shots(right), site).warnings.empty());
  const Survey odd = gather_survey(shots(wrong), site);
  REQUIRE(odd.warnings.size() == 1);
  // x of 12 to 20 lies 2 m and more off: five columns of three.
  CHECK_THAT(odd.warnings[0],
             ContainsSubstring("15 of 33 shots lie off the yard") && ContainsSubstring("exchanged none"));
  // A square yard keeps them all, but not its house in the east, which nobody shot.
  site.outline = rectangle(0, 0, 20, 20);
  site.buildings.resize(1);
  site.buildings[0].outline = rectangle(12, 6, 20, 14);
  std::vector<Point3> around, exchanged;
  for (int j = 0; j <= 20; j += 4)
    for (int i = 0; i <= 20; i += 4)
      if (!(i >= 12 && j > 6 && j < 14)) {
        around.push_back({1.0 * i, 1.0 * j, 1});
        exchanged.push_back({1.0 * j, 1.0 * i, 1});
      }
  CHECK(gather_survey(shots(around), site).warnings.empty());
  const Survey turned = gather_survey(shots(exchanged), site);
  REQUIRE(turned.warnings.size() == 1);
  CHECK_THAT(turned.warnings[0], ContainsSubstring("check which column is x (east)"));
}

TEST_CASE("shots most of which lie off the yard are said to be odd; the one across the road is not",
          "[survey]") {
  const site::Site site = plain_site(rectangle(0, 0, 10, 10), 1);
  const Survey odd =
      gather_survey(shots({{1, 1, 1}, {15, 1, 1.1}, {15, 9, 1.2}, {18, 4, 1.1}, {3, 14, 1}}), site);
  REQUIRE(odd.warnings.size() == 1);
  CHECK_THAT(odd.warnings[0], ContainsSubstring("4 of 5 shots") && ContainsSubstring("origin"));
  CHECK(
      gather_survey(shots({{1, 1, 1}, {9, 1, 1}, {9, 9, 1}, {1, 9, 1}, {15, 4, 1}}), site).warnings.empty());
}

TEST_CASE("floors that were shot as ground are said to be so, corners of a house are not", "[survey]") {
  site::Site site = plain_site(rectangle(0, 0, 20, 20), 1);
  site.units = "m";
  site.buildings.resize(1);
  site.buildings[0].name = "shed";
  site.buildings[0].outline = rectangle(6, 6, 14, 14); // alike with x and y exchanged
  std::vector<Point3> points = {{0, 0, 1}, {20, 0, 1}, {20, 20, 1}, {0, 20, 1}, {6.3, 6.3, 1}, {6, 10, 1}};
  CHECK(gather_survey(shots(points), site).warnings.empty());
  points.push_back({10, 10, 1.2});
  CHECK_THAT(gather_survey(shots(points), site).warnings.at(0),
             ContainsSubstring("\"p6\" (levels.csv:8) lies inside 'shed'"));
  points.push_back({12, 9, 1.2});
  points.push_back({9, 10, 1.2});
  const Survey floors = gather_survey(shots(points), site);
  REQUIRE(floors.warnings.size() == 1);
  CHECK_THAT(floors.warnings[0], ContainsSubstring("and 2 more shots lie inside 'shed'"));
}
