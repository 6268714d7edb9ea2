#include "catch.hpp"

#include <cmath>

#include <lowspot/terrain/survey_check.hpp>

#include "planted.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
// A 6 by 6 net of shots on a plane, one of them out by `error`.
LevelBook net(double error, int wrong) {
  LevelBook book;
  book.file = "levels.csv";
  for (int j = 0; j < 6; ++j)
    for (int i = 0; i < 6; ++i) {
      const double x = 2.0 * i + 0.3 * std::sin(j), y = 2.0 * j + 0.3 * std::cos(3 * i);
      const int k = 6 * j + i;
      Shot shot;
      shot.name = "p" + std::to_string(k);
      shot.at = {x, y, 10 + 0.02 * x - 0.01 * y + (k == wrong ? error : 0)};
      shot.line = k + 2;
      book.shots.push_back(shot);
    }
  return book;
}
const site::Site yard = plain_site(rectangle(0, 0, 11, 11), 1);
} // namespace

TEST_CASE("on a plane no shot disagrees; on the hull there is no saying", "[survey_check]") {
  const LevelBook book = net(0, -1);
  const Survey survey = gather_survey(book, yard);
  const auto residual = leave_one_out(survey, triangulate(survey));
  CHECK(std::isnan(residual[0]));
  int known = 0;
  for (double r : residual)
    if (!std::isnan(r)) {
      CHECK_THAT(r, WithinAbs(0, 1e-12));
      ++known;
    }
  CHECK(known >= 16);
  CHECK(suspicious_shots(book, yard).empty());
}

TEST_CASE("the error of a shot left out is that of a triangulation made without it", "[survey_check]") {
  const LevelBook book = book_of(shot_yard(3));
  site::Site site = shot_yard(3).site;
  site.ground.breaklines = {{{1, 4, 30}, {9, 7.3, 30.5}, {17, 6.1, 30.2}}};
  const Survey survey = gather_survey(book, site);
  const auto residual = leave_one_out(survey, triangulate(survey));
  int compared = 0;
  for (std::size_t k = 0; k < survey.points.size(); k += 7) {
    if (std::isnan(residual[k])) continue;
    Survey rest = survey;
    rest.points.erase(rest.points.begin() + static_cast<std::ptrdiff_t>(k));
    for (auto& edge : rest.edges)
      for (int& end : edge) end -= end > static_cast<int>(k);
    int hint = 0;
    const double z = interpolate(triangulate(rest), {survey.points[k].at.x, survey.points[k].at.y}, hint).z;
    CHECK_THAT(residual[k], WithinAbs(survey.points[k].at.z - z, 1e-6));
    ++compared;
  }
  CHECK(compared > 10);
}

TEST_CASE("a wrong shot shows its whole error and is named with its line", "[survey_check]") {
  const LevelBook book = net(-0.2, 14);
  const Survey survey = gather_survey(book, yard);
  CHECK_THAT(leave_one_out(survey, triangulate(survey))[14], WithinAbs(-0.2, 1e-9));
  const auto sentences = suspicious_shots(book, yard);
  REQUIRE(sentences.size() == 1);
  CHECK_THAT(sentences[0], ContainsSubstring("levels.csv:16: \"p14\" stands 0.2 m below"));
}

TEST_CASE("inches written as tenths are recognised, with the elevation if mended", "[survey_check]") {
  LevelBook book = net(0, -1);
  // 4 ft 11 in written as 4.11: booked too high by 0.807 ft.
  Shot& shot = book.shots[14];
  shot.at.z += (4 + 11.0 / 12 - 4.11) * 0.3048;
  shot.written = {"4.11", 0.3048, -1};
  const BookCheck check = check_book(book, yard);
  REQUIRE(check.shots.size() == 1);
  CHECK(check.shots[0].cause == "inches written as tenths");
  CHECK(check.shots[0].meant == "4' 11\"");
  CHECK_THAT(check.shots[0].mended_elevation, WithinAbs(10 + 0.02 * shot.at.x - 0.01 * shot.at.y, 1e-9));
  CHECK_THAT(check.shots[0].off_mended, WithinAbs(0, 1e-9));
  CHECK_THAT(suspicion_text(check.shots[0], book, yard), ContainsSubstring("had \"4' 11\"\" been written"));
}

TEST_CASE("over a raster a breakline counts by what it differs from it, as the shots do", "[survey_check]") {
  HeightMap map;
  map.raster.nx = map.raster.ny = 36;
  map.raster.dx = map.raster.dy = 0.5;
  map.raster.x0 = map.raster.y0 = -3;
  map.hole.assign(36 * 36, 0);
  const auto plane = [](double x, double y) { return 10 + 0.02 * x - 0.01 * y; };
  for (int j = 0; j < 36; ++j)
    for (int i = 0; i < 36; ++i) map.raster.z.push_back(plane(-2.75 + 0.5 * i, -2.75 + 0.5 * j));
  site::Site site = yard;
  for (const double y : {1.0, 3.2, 5.1, 7.1, 9.2})
    site.ground.breaklines.push_back(
        {{0, y, plane(0, y)}, {3, y, plane(3, y)}, {7, y, plane(7, y)}, {11, y, plane(11, y)}});
  LevelBook book = net(-0.2, 14);
  for (Shot& shot : book.shots) shot.at.z += 0.004 * std::sin(5.0 * shot.line); // a rod is held to no better
  const auto found = [&] {
    const BookCheck check = check_book(book, site, &map);
    return check.shots.size() == 1 && check.shots[0].line == 16;
  };
  CHECK(found());
  // Nor does a shot beyond the raster make those near it look wrong.
  Shot far;
  far.name = "curb", far.line = 90, far.at = {5, -40, plane(5, -40)};
  book.shots.push_back(far);
  CHECK(found());
}

TEST_CASE("shots that fit to rounding are said to fit to nothing, not to a 1e-14 of a foot",
          "[survey_check]") {
  LevelBook book = net(0, -1);
  Shot again = book.shots[14];
  again.at.z += 0.3;
  again.name = "again";
  again.line = 60;
  book.shots.push_back(again);
  const BookCheck check = check_book(book, yard);
  REQUIRE(check.shots.size() == 1);
  REQUIRE(check.shots[0].kind == SuspicionKind::two_elevations);
  Suspicion suspicion = check.shots[0];
  suspicion.off_mended = -3e-15; // as planes through neighbours leave it
  CHECK_THAT(suspicion_text(suspicion, book, yard), ContainsSubstring("neighbours say the second, to 0 m"));
  suspicion.off_mended = 0.004;
  CHECK_THAT(suspicion_text(suspicion, book, yard),
             ContainsSubstring("neighbours say the second, to 0.004 m"));
}
