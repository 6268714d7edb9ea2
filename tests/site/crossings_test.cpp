#include "catch.hpp"

#include <lowspot/site/crossings.hpp>

using namespace lowspot;

namespace {
Polygon rectangle(double x, double y, double wide, double high) {
  return {{x, y}, {x + wide, y}, {x + wide, y + high}, {x, y + high}};
}
} // namespace

TEST_CASE("a way is told by the topmost area over each piece of it, and by walls") {
  site::Site yard;
  yard.areas.resize(3);
  yard.areas[0].name = "grass";
  yard.areas[0].kind = "lawn";
  yard.areas[0].outline = rectangle(0, 0, 20, 10);
  yard.areas[1].name = "patio";
  yard.areas[1].kind = "concrete";
  yard.areas[1].outline = rectangle(5, 0, 6, 10);
  yard.areas[2].name = "tub";
  yard.areas[2].kind = "mulched bed";
  yard.areas[2].outline = rectangle(6, 4, 2, 2);
  yard.walls = {{"edging", {{15, 0}, {15, 10}}, 0.1}, {"far wall", {{19, 0}, {19, 10}}, 0.1}};
  const auto list = site::crossed(yard, {{0, 5}, {18, 5}});
  REQUIRE(list.size() == 3);
  CHECK(list[0].first == "patio");
  CHECK_THAT(list[0].second, WithinAbs(4, 0.1));
  CHECK(list[1].first == "tub");
  CHECK_THAT(list[1].second, WithinAbs(2, 0.1));
  CHECK(list[2] == std::pair<std::string, double>("edging", 0));
  CHECK(site::crossed(yard, {{0, 2}, {4, 2}}).empty());
  yard.areas[0].kind = "dense lawn";
  CHECK(site::crossed(yard, {{0, 2}, {4, 2}}).empty());
}
