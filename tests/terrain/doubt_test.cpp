#include "catch.hpp"

#include <cmath>

#include <lowspot/terrain/doubt.hpp>
#include <lowspot/terrain/survey_check.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
// A rim at 10 m round a bowl whose bottom is one shot, or two.
Survey bowl(bool second) {
  Survey survey;
  auto add = [&](double x, double y, double z) {
    survey.points.push_back({"p", {x, y, z}, static_cast<int>(survey.points.size()) + 2, true});
  };
  for (int k = 0; k <= 20; k += 4)
    for (int side : {0, 20}) {
      add(k, side, 10);
      if (k > 0 && k < 20) add(side, k, 10);
    }
  add(6, 6, 9.7);
  add(14, 6, 9.9);
  add(6, 14, 9.9);
  if (second) add(14, 14, 9.8);
  return survey;
}
} // namespace

TEST_CASE("doubt is a rod reading at a shot and grows with the distance from it", "[doubt]") {
  const Survey survey = bowl(true);
  const Tin tin = triangulate(survey);
  const auto error = leave_one_out(survey, tin);
  const Doubt doubt(survey, error, {});
  CHECK_THAT(doubt.at({6, 6}), WithinAbs(0.003, 1e-9));
  CHECK(doubt.at({7, 7}) > doubt.at({6.5, 6.5}));
  CHECK_THAT(doubt.reach({6, 9}), WithinAbs(3, 1e-12));
  // A plane has none, however far.
  Survey plane = survey;
  for (SurveyPoint& p : plane.points) p.at.z = 5 + 0.02 * p.at.x;
  const Doubt none(plane, leave_one_out(plane, triangulate(plane)), {});
  CHECK_THAT(none.at({10, 10}), WithinAbs(0.003, 1e-6));
  // Nothing is known of a handful of shots: 2 % of the distance.
  Survey three;
  three.points = {survey.points[0], survey.points[1], survey.points[5]};
  const Doubt blind(three, {NAN, NAN, NAN}, {});
  CHECK_THAT(blind.at({survey.points[0].at.x + 1, survey.points[0].at.y}),
             WithinAbs(std::hypot(0.003, 0.02), 1e-9));
}

TEST_CASE("one more shot is asked for where it changes the low spot most, and the change is exact",
          "[doubt]") {
  const Survey survey = bowl(false);
  site::Site site = plain_site(rectangle(0, 0, 20, 20), 0.25);
  const Tin tin = triangulate(survey);
  Ground ground = bare_ground(80, 80, 0.25, [](int, int) { return 0.0; });
  for (Side side : {Side::west, Side::east, Side::south, Side::north}) open_side(ground, side);
  ground.elevation = interpolate(tin, ground.grid);
  ground.cover.assign(ground.grid.cells(), -1);
  const Doubt doubt(survey, leave_one_out(survey, tin), {});
  const auto next = next_shots(ground, survey, tin, doubt, site, 3);
  REQUIRE(next.size() == 3);
  CHECK(next[0].volume_change >= next[1].volume_change);
  // The corner that was left out is the largest piece of ground without a shot.
  CHECK(next[0].at.x > 8);
  CHECK(next[0].at.y > 8);
  CHECK(next[0].volume_change > 0);
  // The pyramid of a third of base times height is what one shot moves at most.
  CHECK(next[0].volume_change < 400 * next[0].doubt / 3);
}

TEST_CASE("slabs with shots of their own and buildings ask for none", "[doubt]") {
  const Survey survey = bowl(false);
  site::Site site = plain_site(rectangle(0, 0, 20, 20), 0.5);
  site.areas.push_back(patio(rectangle(0, 0, 20, 20)));
  site.areas[0].surface = {{0, 0, 1}, {20, 0, 1}, {0, 20, 1}};
  Ground ground = bare_ground(40, 40, 0.5, [](int, int) { return 1.0; });
  ground.cover.assign(ground.grid.cells(), 0);
  const Tin tin = triangulate(survey);
  CHECK(next_shots(ground, survey, tin, Doubt(survey, leave_one_out(survey, tin), {}), site, 3).empty());
}
