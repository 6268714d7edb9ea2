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

TEST_CASE("a sunken court between the wings of a house raises no alarm, a slip in the yard does") {
  site::Site site = plain_site(rectangle(0, 0, 32, 32), 0.5);
  LevelBook book;
  book.file = "levels.csv";
  int line = 1;
  const auto shoot = [&](double x, double y, double z) {
    Shot shot;
    shot.line = ++line;
    shot.name = "p" + std::to_string(line);
    shot.at = {x, y, z + 0.004 * ((line * 7) % 5)};
    shot.written.text = "x";
    book.shots.push_back(shot);
  };
  const std::vector<Polygon> wings = {rectangle(10, 10, 14, 22), rectangle(18, 10, 22, 22),
                                      rectangle(14, 10, 18, 14), rectangle(14, 18, 18, 22)};
  for (double y = 1; y < 32; y += 3)
    for (double x = 1; x < 32; x += 3)
      if (x < 10 || x > 22 || y < 10 || y > 22) shoot(x, y, 100 + 0.01 * y);
  shoot(15, 15, 98.7);
  shoot(17, 17, 98.7);
  const std::size_t without = check_book(book, site).shots.size();
  for (const Polygon& wing : wings) {
    site::Building building;
    building.outline = wing;
    site.buildings.push_back(building);
  }
  CHECK(without > 0); // as if the ground went on under the house
  CHECK(check_book(book, site).shots.empty());
  book.shots[14].at.z += 0.3; // a foot off, amid the yard
  const BookCheck check = check_book(book, site);
  REQUIRE(check.shots.size() == 1);
  CHECK(check.shots[0].line == book.shots[14].line);
}
