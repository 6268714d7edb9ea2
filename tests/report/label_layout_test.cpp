#include <algorithm>
#include <cmath>
#include <random>

#include "catch.hpp"

#include <lowspot/report/label_layout.hpp>

using namespace lowspot::report;

TEST_CASE("names do not run into each other or over the frame") {
  const Rectangle frame{0, 0, 100, 100};
  const std::vector<Rectangle> places = {{40, 40, 20, 10}, {40, 60, 20, 10}, {95, 40, 20, 10}};
  const Label label{"a", {}, {20, 10}, places, {}};
  const auto placed = place_labels({label, label, label}, {}, frame);
  REQUIRE(placed.size() == 2); // the third would lie over one or leave the frame
  CHECK(placed[0].at.y == 40);
  CHECK(placed[1].at.y == 60);
  CHECK(overlap(placed[0].at, placed[1].at) == 0);
}

TEST_CASE("a name moves off a pipe when it can, and stays when it cannot") {
  const Rectangle frame{0, 0, 100, 100};
  const Label label{"a", {}, {20, 10}, {{0, 0, 20, 10}, {0, 50, 20, 10}}, {}};
  CHECK(place_labels({label}, {{{5, 5, 4, 4}, weight_of_marks}}, frame)[0].at.y == 50);
  CHECK(place_labels({label}, {{{0, 0, 100, 100}}}, frame).size() == 1);
}

TEST_CASE("a name is put over no words: elsewhere, or nowhere") {
  const Rectangle frame{0, 0, 100, 100};
  const Label label{"side lawn", {}, {40, 10}, {{0, 0, 40, 10}, {0, 50, 40, 10}}, {}};
  const Obstacle station{{30, 5, 20, 8}, weight_of_words}, pipe{{0, 50, 40, 10}, weight_of_marks};
  const auto placed = place_labels({label}, {station, pipe}, frame);
  REQUIRE(placed.size() == 1);
  CHECK(placed[0].at.y == 50); // over the pipe rather
  CHECK(place_labels({label}, {station, {{10, 55, 5, 5}, weight_of_words}}, frame).empty());
}

TEST_CASE("shared area") {
  CHECK(overlap({0, 0, 2, 2}, {1, 1, 2, 2}) == 1);
  CHECK(overlap({0, 0, 2, 2}, {2, 0, 2, 2}) == 0);
  CHECK(holds({0, 0, 2, 2}, {0, 0, 2, 2}));
  CHECK_FALSE(holds({0, 0, 2, 2}, {0, 0, 2, 2.1}));
}

TEST_CASE("however many names crowd a place, they stay apart and inside; the first ones keep theirs") {
  std::mt19937 random(5);
  std::uniform_real_distribution<double> share(0, 1);
  const Rectangle frame{10, 20, 300, 200};
  for (int trial = 0; trial < 50; ++trial) {
    std::vector<Label> labels;
    for (int k = 0; k < 40; ++k) {
      Label label{std::to_string(k), {}, {30 + 80 * share(random), 8 + 6 * share(random)}, {}, {}};
      for (int place = 0; place < 12; ++place)
        label.candidates.push_back(
            {320 * share(random), 240 * share(random), label.size.width, label.size.height});
      labels.push_back(label);
    }
    const auto placed = place_labels(labels, {}, frame);
    CHECK(placed.size() > 5);
    CHECK(placed.size() < labels.size());
    int before = -1;
    for (std::size_t a = 0; a < placed.size(); ++a) {
      const Rectangle& one = placed[a].at;
      CHECK(holds(frame, one));
      CHECK(std::stoi(placed[a].text) > before); // by rank
      before = std::stoi(placed[a].text);
      for (std::size_t b = 0; b < a; ++b) {
        const Rectangle& other = placed[b].at;
        const double across = std::max(one.x - other.x - other.width, other.x - one.x - one.width);
        const double down = std::max(one.y - other.y - other.height, other.y - one.y - one.height);
        CHECK(std::max(across, down) >= room_between - 1e-9);
      }
    }
    // A name is left out only where each of its places is taken by one of higher rank, or out of the frame.
    for (const Label& label : labels) {
      const int rank = std::stoi(label.text);
      if (std::any_of(placed.begin(), placed.end(),
                      [&](const PlacedLabel& p) { return p.text == label.text; }))
        continue;
      for (const Rectangle& place : label.candidates) {
        const Rectangle wide{place.x - room_between, place.y - room_between, place.width + 2 * room_between,
                             place.height + 2 * room_between};
        CHECK((!holds(frame, place) || std::any_of(placed.begin(), placed.end(), [&](const PlacedLabel& p) {
          return std::stoi(p.text) < rank && overlap(p.at, wide) > 0;
        })));
      }
    }
  }
}

TEST_CASE("a name as near as its halo to another moves on") {
  const Label first{"a", {}, {20, 10}, {{0, 0, 20, 10}}, {}},
      second{"b", {}, {20, 10}, {{0, 11, 20, 10}, {0, 14, 20, 10}}, {}};
  const auto placed = place_labels({first, second}, {}, {0, 0, 100, 100});
  REQUIRE(placed.size() == 2);
  CHECK(placed[1].at.y == 14);
}

TEST_CASE("a name rather covers water than a pipe, and rather a corner of an outline than water") {
  const Rectangle frame{0, 0, 100, 100}, first{0, 0, 20, 10}, second{0, 50, 20, 10};
  const Label label{"a", {}, {20, 10}, {first, second}, {}};
  std::vector<Obstacle> obstacles;
  add_obstacles({{10, -20}, {10, 30}}, 6, weight_of_marks, obstacles); // a pipe through the first
  obstacles.push_back({second});                                       // the second all in water
  CHECK(place_labels({label}, obstacles, frame)[0].at.y == 50);
  obstacles = {{second}};
  add_obstacles({{10, -20}, {10, 30}}, 2, weight_of_outlines, obstacles);
  CHECK(place_labels({label}, obstacles, frame)[0].at.y == 0);
}

TEST_CASE("a long name is moved off an outline that crosses it no less than a short one") {
  const Rectangle frame{0, 0, 300, 100};
  std::vector<Obstacle> obstacles;
  add_obstacles({{30, -20}, {30, 30}}, 2, weight_of_outlines, obstacles); // through the first place alone
  for (const double width : {60.0, 140.0}) {
    // The second stands outside what it names, with a line to it.
    const Rectangle first{0, 0, width, 10}, second{0, 50, width, 10};
    const Label label{"a", {}, {width, 10}, {first, second}, {{width / 2, 5}}};
    CHECK(place_labels({label}, obstacles, frame)[0].at.y == 50);
  }
}

TEST_CASE("covered alike, the first place is kept") {
  const Rectangle frame{0, 0, 100, 100};
  const Label label{"a", {}, {20, 10}, {{40, 40, 20, 10}, {0, 0, 20, 10}}, {}};
  CHECK(place_labels({label}, {{frame}}, frame)[0].at.x == 40);
}

TEST_CASE("a name away from what it names has a line to it, which no later name lies over") {
  const Rectangle frame{0, 0, 200, 100};
  const Label near{"n", {}, {20, 10}, {{20, 40, 20, 10}}, {{15, 45}}};
  CHECK(place_labels({near}, {}, frame)[0].leader.empty());
  const Label far{"f", {}, {20, 10}, {{100, 40, 20, 10}}, {{15, 45}, {40, 45}}};
  const auto placed = place_labels({far}, {}, frame);
  REQUIRE(placed[0].leader.size() == 2);
  CHECK(placed[0].leader[0].x == 100);
  CHECK(placed[0].leader[1].x == 40);
  const Label later{"l", {}, {20, 10}, {{60, 40, 20, 10}, {60, 70, 20, 10}}, {}};
  CHECK(place_labels({far, later}, {}, frame)[1].at.y == 70);
  // Nor is a line drawn through a name that is there already.
  const Label other{"o", {}, {20, 10}, {{60, 40, 20, 10}}, {}};
  Label either = far;
  either.candidates.push_back({15, 70, 20, 10});
  CHECK(place_labels({other, either}, {}, frame)[1].at.y == 70);
}

TEST_CASE("a line to what is named rather goes round a pipe than over it, but may end on one") {
  const Rectangle frame{0, 0, 200, 200};
  const Label bed{"bed", {}, {20, 10}, {{90, 45, 20, 10}, {40, 90, 20, 10}}, {{50, 50}}};
  CHECK(place_labels({bed}, {}, frame)[0].at.x == 90);
  CHECK(place_labels({bed}, {{{68, 40, 4, 20}, weight_of_marks}}, frame)[0].at.x == 40);
  CHECK(place_labels({bed}, {{{48, 48, 4, 4}, weight_of_marks}}, frame)[0].at.x == 90);
}

TEST_CASE("an area's name had better stand outside it than over its outline") {
  // Its upper edge runs through the place inside; outside a line leads to it.
  std::vector<Obstacle> edge;
  add_obstacles({{0, 45}, {100, 45}}, 2, weight_of_outlines, edge);
  const Label bed{"bed", {}, {40, 10}, {{30, 40, 40, 10}, {30, 10, 40, 10}}, {{50, 52}}};
  CHECK(place_labels({bed}, edge, {0, 0, 200, 200})[0].at.y == 10);
}

TEST_CASE("obstacles along a line lie on it from end to end") {
  std::vector<Obstacle> obstacles;
  add_obstacles({{0, 0}, {30, 0}, {30, 40}}, 4, 2, obstacles);
  for (const Obstacle& one : obstacles) {
    CHECK(one.weight == 2);
    const double x = one.box.x + 2, y = one.box.y + 2;
    CHECK((std::abs(y) < 1e-9 || std::abs(x - 30) < 1e-9));
  }
  CHECK(obstacles.size() == 8 + 10);
}

TEST_CASE("a text takes the first place where it keeps its distance, or none") {
  const Size size{20, 8};
  const std::vector<lowspot::Point> middles = {{50, 50}, {50, 80}};
  const auto first = free_room(middles, size, {});
  REQUIRE(first);
  CHECK(first->x == 40);
  CHECK(first->y == 46);
  const auto second = free_room(middles, size, {{40, 55, 20, 8}}); // a point below the first: too near
  REQUIRE(second);
  CHECK(second->y == 76);
  CHECK_FALSE(free_room(middles, size, {{40, 46, 20, 8}, {40, 76, 20, 8}}));
}
