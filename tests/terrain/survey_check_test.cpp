#include "catch.hpp"

#include <cmath>

#include <lowspot/terrain/survey_check.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
// A 6 by 6 net of shots on a plane, one of them out by `error`.
Survey net(double error, int wrong) {
  Survey survey;
  survey.file = "levels.csv";
  for (int j = 0; j < 6; ++j)
    for (int i = 0; i < 6; ++i) {
      const double x = 2.0 * i + 0.3 * std::sin(j), y = 2.0 * j + 0.3 * std::cos(3 * i);
      const int k = 6 * j + i;
      survey.points.push_back({"p" + std::to_string(k),
                               {x, y, 10 + 0.02 * x - 0.01 * y + (k == wrong ? error : 0)},
                               k + 2,
                               true});
    }
  return survey;
}
} // namespace

TEST_CASE("on a plane no shot disagrees; on the hull there is no saying", "[survey_check]") {
  const Survey survey = net(0, -1);
  const Tin tin = triangulate(places(survey));
  const auto residual = leave_one_out(survey, tin);
  CHECK(std::isnan(residual[0]));
  for (double r : residual)
    if (!std::isnan(r)) CHECK_THAT(r, WithinAbs(0, 1e-12));
  CHECK(suspicious_shots(survey, tin, {}, plain_site(rectangle(0, 0, 10, 10), 1)).empty());
}

TEST_CASE("a wrong shot shows its whole error and is named first", "[survey_check]") {
  const Survey survey = net(-0.2, 14);
  const Tin tin = triangulate(places(survey));
  CHECK_THAT(leave_one_out(survey, tin)[14], WithinAbs(-0.2, 1e-12));
  const auto sentences = suspicious_shots(survey, tin, {}, plain_site(rectangle(0, 0, 10, 10), 1));
  REQUIRE_FALSE(sentences.empty());
  CHECK_THAT(sentences[0], ContainsSubstring("levels.csv:16: \"p14\" stands 0.2 m below"));
}

TEST_CASE("inches written as tenths are recognised", "[survey_check]") {
  // 4 ft 6 in written as 4.6: the booked elevation is 0.1 ft too low.
  const Survey survey = net(-0.1 * 0.3048, 14);
  LevelBook book;
  Sighting sighting;
  sighting.line = 16;
  sighting.reading = 4.6 * 0.3048;
  sighting.decimal = true;
  book.sightings.push_back(sighting);
  site::Site site = plain_site(rectangle(0, 0, 10, 10), 1);
  const auto sentences = suspicious_shots(survey, triangulate(places(survey)), book, site);
  REQUIRE_FALSE(sentences.empty());
  CHECK_THAT(sentences[0], ContainsSubstring("inches been read and written as tenths"));
}

TEST_CASE("one more shot is asked for in the largest gap inside the yard", "[survey_check]") {
  Survey survey = net(0, -1);
  // Take out four around (7, 5) and the hull stays.
  std::erase_if(survey.points, [](const SurveyPoint& p) { return std::hypot(p.at.x - 7, p.at.y - 5) < 1.7; });
  const site::Site site = plain_site(rectangle(0, 0, 10, 10), 1);
  const NextShot next = next_shot(survey, triangulate(places(survey)), site);
  CHECK(std::hypot(next.at.x - 7, next.at.y - 5) < 1.7);
  CHECK(next.reach > 1);
}
