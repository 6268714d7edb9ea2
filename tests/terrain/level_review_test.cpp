#include "catch.hpp"

#include <cmath>

#include <lowspot/terrain/level_review.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
site::Site yard_with(const std::string& name, const std::string& levels) {
  site::Site site = plain_site(rectangle(0, 0, 12, 8), 0.5);
  site.ground.levels = name;
  write_file(name, levels);
  return site;
}
} // namespace

TEST_CASE("a review holds the book, the ground and what is in doubt", "[level_review]") {
  const site::Site site =
      yard_with("review.csv", "x,y,elevation\n0,0,10\n12,0,10\n0,8,10\n12,8,10\n4,4,9.8\n8,4,9.9\n");
  const LevelReview review = review_levels(site);
  CHECK(review.book.shots.size() == 6);
  CHECK(review.leave_one_out.size() == review.survey.points.size());
  CHECK(review.doubt.size() == review.ground.grid.cells());
  CHECK(review.low_spot_volume > 0);
  CHECK_FALSE(review.next.empty());
  CHECK(review.check.shots.empty());
}

TEST_CASE("three shots, a yard of one cell, a shot outside the outline", "[level_review]") {
  const std::string three = "x,y,elevation\n0,0,10\n12,0,9.9\n0,8,9.8\n";
  CHECK(review_levels(yard_with("three.csv", three)).check.shots.empty());
  CHECK(review_levels(yard_with("outside.csv", three + "12,8,9.7\n-3,9,10.1\n")).check.shots.empty());
  site::Site one = yard_with("three.csv", three);
  one.outline = rectangle(2, 2, 3, 3);
  one.cell = 1;
  CHECK(review_levels(one).ground.grid.cells() == 1);
  CHECK_THAT(
      problem_of([&] { review_levels(yard_with("line.csv", "x,y,elevation\n0,0,1\n1,1,1\n5,5,2\n")); }),
      ContainsSubstring("on one line"));
}

TEST_CASE("a site without levels is told so", "[level_review]") {
  site::Site site = plain_site(rectangle(0, 0, 12, 8), 0.5);
  lay_plane(site, 10, 0.01, 0);
  CHECK_THAT(problem_of([&] { review_levels(site); }), ContainsSubstring("ground.levels"));
}
