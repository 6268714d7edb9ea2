#include "catch.hpp"

#include <lowspot/terrain/parted_by_building.hpp>
#include <lowspot/terrain/survey_check.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

TEST_CASE("through a house, along its wall, past its corner") {
  const std::vector<Polygon> house = {rectangle(10, 10, 20, 18)};
  CHECK(parted_by_building(house, {8, 14}, {22, 14}));
  CHECK(parted_by_building(house, {15, 14}, {22, 14}));
  CHECK_FALSE(parted_by_building(house, {9.9, 8}, {10.1, 20}));
  CHECK_FALSE(parted_by_building(house, {8, 10.2}, {10.2, 8}));
  CHECK_FALSE(parted_by_building(house, {0, 0}, {30, 5}));
  CHECK_FALSE(parted_by_building({}, {8, 14}, {22, 14}));
  CHECK(parted_by_building(house, {15, 14}, {15, 14})); // inside
}

TEST_CASE("a house on a slope with ground of its own on each side raises no alarm, a slip there does") {
  // Behind the house the lawn lies four feet higher than the drive in front of it: a split-level house.
  site::Site site = plain_site(rectangle(0, 0, 40, 20), 0.5);
  site::Building house;
  house.name = "house";
  house.outline = rectangle(14, 0, 24, 20);
  LevelBook book;
  book.file = "levels.csv";
  int line = 1;
  const auto shoot = [&](double x, double y, double more) {
    Shot shot;
    shot.line = ++line;
    shot.name = "p" + std::to_string(line);
    shot.at = {x, y, (x < 19 ? 100.0 : 101.3) + 0.01 * y + more + 0.004 * ((line * 7) % 5)};
    shot.written.text = "x";
    book.shots.push_back(shot);
  };
  for (double y = 1; y < 20; y += 3)
    for (const double x : {1.0, 5.0, 9.0, 13.7}) shoot(x, y, 0);
  for (const double y : {4.0, 10.0, 16.0}) shoot(24.3, y, 0); // a strip behind the house, thinly shot
  for (const double y : {2.0, 7.0, 13.0, 18.0}) shoot(28, y, 0);
  const std::size_t without = check_book(book, site).shots.size();
  site.buildings = {house};
  CHECK(without > 0); // as if the ground went on under the house
  CHECK(check_book(book, site).shots.empty());
  book.shots[9].at.z += 0.3; // a foot off, on the side that is shot well
  const BookCheck check = check_book(book, site);
  REQUIRE(check.shots.size() == 1);
  CHECK(check.shots[0].line == book.shots[9].line);
}
