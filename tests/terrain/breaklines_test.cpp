#include "catch.hpp"

#include <cmath>

#include <lowspot/terrain/breaklines.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
Survey with_lines(const std::vector<std::vector<Point3>>& lines, const std::vector<Point3>& shots = {}) {
  site::Site site = plain_site(rectangle(0, 0, 10, 10), 1);
  site.ground.breaklines = lines;
  LevelBook book;
  book.file = "levels.csv";
  for (std::size_t k = 0; k < shots.size(); ++k)
    book.shots.push_back({"s" + std::to_string(k), shots[k], "", static_cast<int>(k) + 2});
  return gather_survey(book, site);
}
} // namespace

TEST_CASE("breaklines that cross meet in a new point, and all are followed", "[breaklines]") {
  const Survey survey =
      with_lines({{{0, 0, 1}, {10, 10, 2}}, {{0, 10, 1.02}, {10, 0, 2.02}}, {{2, 1, 1}, {2, 9, 1.3}}});
  CHECK(survey.points.size() == 6 + 3);
  CHECK(survey.edges.size() == 3 + 3 + 3);
  bool met = false;
  for (const SurveyPoint& p : survey.points)
    if (std::hypot(p.at.x - 5, p.at.y - 5) < 1e-9) {
      met = true;
      CHECK_THAT(p.at.z, WithinAbs(1.51, 1e-12));
    }
  CHECK(met);
  const Tin tin = triangulate(survey);
  CHECK(tin.missed == 0);
  CHECK(tin.fixed.size() == survey.edges.size());
}

TEST_CASE("crossing lines of different height are said", "[breaklines]") {
  const Survey survey = with_lines({{{0, 0, 1}, {10, 10, 2}}, {{0, 10, 1.2}, {10, 0, 2.2}}});
  REQUIRE(survey.warnings.size() == 1);
  CHECK_THAT(survey.warnings[0], ContainsSubstring("two breaklines cross at 5, 5"));
}

TEST_CASE("a breakline is led over the shots it passes; the shot rules", "[breaklines]") {
  const std::vector<std::vector<Point3>> line = {{{0, 5, 1}, {10, 5, 1}}};
  Survey survey = with_lines(line, {{3, 5.005, 1.02}, {7, 5, 1}, {5, 5.5, 1}, {0, 0, 1}});
  CHECK(survey.edges.size() == 3);
  CHECK(survey.warnings.empty());
  survey = with_lines(line, {{3, 5.005, 1.2}, {0, 0, 1}});
  CHECK(survey.edges.size() == 2);
  REQUIRE(survey.warnings.size() == 1);
  CHECK_THAT(survey.warnings[0], ContainsSubstring("the shot is kept"));
  survey = with_lines(line, {{0, 5, 1.2}, {0, 0, 1}, {3, 3, 1}}); // on its very end
  REQUIRE(survey.warnings.size() == 1);
  CHECK_THAT(survey.warnings[0], ContainsSubstring("the shot is kept"));
  CHECK(survey.points[0].at.z == 1.2);
}

TEST_CASE("which places a breakline parts", "[breaklines]") {
  const Survey survey = with_lines({{{0, 5, 1}, {8, 5, 1}}}, {{1, 1, 1}});
  CHECK(parted_by_edge(survey, {3, 3, 0}, {4, 7, 0}));
  CHECK_FALSE(parted_by_edge(survey, {3, 3, 0}, {4, 4.9, 0}));
  CHECK_FALSE(parted_by_edge(survey, {9, 3, 0}, {9, 7, 0}));
  CHECK_FALSE(parted_by_edge(survey, {3, 3, 0}, {3, 5, 0}));
}

TEST_CASE("densified edges keep their line and their ends", "[breaklines]") {
  const Survey survey = densified(with_lines({{{0, 0, 1}, {3, 4, 2}, {3, 9, 2}}}), 1);
  CHECK(survey.points.size() == 11);
  CHECK(survey.edges.size() == 10);
  for (const SurveyPoint& p : survey.points)
    if (p.at.x < 3) CHECK_THAT(p.at.z, WithinAbs(1 + p.at.x / 3, 1e-12));
  for (const auto& [a, b] : survey.edges) {
    const Point3 &p = survey.points[a].at, &q = survey.points[b].at;
    CHECK(std::hypot(p.x - q.x, p.y - q.y) <= 1 + 1e-12);
  }
}
