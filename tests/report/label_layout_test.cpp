#include "catch.hpp"

#include <lowspot/report/label_layout.hpp>

using namespace lowspot::report;

TEST_CASE("names do not run into each other or over the frame") {
  const Rectangle frame{0, 0, 100, 100};
  const std::vector<Rectangle> places = {{40, 40, 20, 10}, {40, 60, 20, 10}, {95, 40, 20, 10}};
  const Label label{"a", {}, {20, 10}, places};
  const auto placed = place_labels({label, label, label}, {}, frame);
  REQUIRE(placed.size() == 2); // the third would lie over one or leave the frame
  CHECK(placed[0].at.y == 40);
  CHECK(placed[1].at.y == 60);
  CHECK(overlap(placed[0].at, placed[1].at) == 0);
}

TEST_CASE("a name moves off a pipe when it can, and stays when it cannot") {
  const Rectangle frame{0, 0, 100, 100};
  const Label label{"a", {}, {20, 10}, {{0, 0, 20, 10}, {0, 50, 20, 10}}};
  CHECK(place_labels({label}, {{5, 5, 4, 4}}, frame)[0].at.y == 50);
  CHECK(place_labels({label}, {{0, 0, 100, 100}}, frame).size() == 1);
}

TEST_CASE("shared area") {
  CHECK(overlap({0, 0, 2, 2}, {1, 1, 2, 2}) == 1);
  CHECK(overlap({0, 0, 2, 2}, {2, 0, 2, 2}) == 0);
  CHECK(holds({0, 0, 2, 2}, {0, 0, 2, 2}));
  CHECK_FALSE(holds({0, 0, 2, 2}, {0, 0, 2, 2.1}));
}
