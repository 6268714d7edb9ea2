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

TEST_CASE("a shot beyond the raster says nothing of those on it", "[level_review]") {
  std::string grid = "ncols 20\nnrows 16\nxllcorner -4\nyllcorner -4\ncellsize 1\n";
  for (int j = 15; j >= 0; --j)
    for (int i = 0; i < 20; ++i) grid += std::to_string(10 + 0.05 * (j - 3.5)) + (i < 19 ? " " : "\n");
  write_file("sloping.asc", grid);
  std::string levels = "x,y,elevation\n";
  for (const double row : {1.0, 4.0, 7.0})
    for (const double x : {1.0, 4.0, 8.0, 11.0}) {
      const double y = row == 1 && x > 3 && x < 9 ? 0.6 : row; // nearest to the one beyond
      levels += std::to_string(x) + "," + std::to_string(y) + "," + std::to_string(10 + 0.05 * y) + "\n";
    }
  site::Site site = yard_with("curb.csv", levels + "5,-40,8\n");
  site.ground.raster = "sloping.asc";
  const LevelReview review = review_levels(site);
  REQUIRE(review.leave_one_out.size() == 13);
  CHECK(std::isnan(review.leave_one_out[12]));
  CHECK_THAT(review.leave_one_out[5], WithinAbs(0, 1e-5));
  for (const double error : review.leave_one_out) CHECK((std::isnan(error) || std::abs(error) < 1e-5));
  CHECK(review.check.shots.empty());
}
