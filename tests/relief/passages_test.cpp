#include "catch.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>

#include <lowspot/relief/passages.hpp>

#include "grounds.hpp"

using namespace lowspot;
using namespace lowspot::relief;

TEST_CASE("faces to nowhere are blocked, low walls are none, high ones are kept for later", "[passages]") {
  Land land = rough_land(3, 1, 1, 1e-9, 0, 0);
  land.elevation = {1.0, 2.0, 1.5};
  land.open_faces = {{0, 0}};
  land.crest_x[1] = 1.8; // below the higher of its cells
  land.crest_x[2] = 2.5; // above both
  const Passages passages = find_passages(land.view());
  CHECK(passages.blocked == std::vector<std::uint8_t>{1 | 4 | 8 | outlet_bit, 2 | 4 | 8, 1 | 2 | 4 | 8});
  REQUIRE(passages.walls.size() == 1);
  CHECK(passages.walls[0].level == 2.5);
  CHECK(passages.walls[0].a == 1);
  CHECK(passages.walls[0].b == 2);
}

TEST_CASE("a wall at an open face holds water until it is overtopped", "[passages]") {
  Land land = rough_land(2, 2, 1, 1e-9, 0, 0);
  land.elevation = {1, 1, 1, 1};
  land.open_faces = {{3, 3}, {1, 1}};
  land.crest_y[land.grid.y_face(1, 2)] = 1.2;
  const Passages passages = find_passages(land.view());
  CHECK((passages.blocked[3] & outlet_bit) == 0);
  CHECK((passages.blocked[1] & outlet_bit) == outlet_bit);
  REQUIRE(passages.walls.size() == 1);
  CHECK(passages.walls[0].level == 1.2);
  CHECK(passages.walls[0].b == -1);
}

TEST_CASE("no crests at all means no walls", "[passages]") {
  Land land = rough_land(4, 3, 2, 1e-9, 0, 0.2);
  Relief bare = land.view();
  bare.crest_x = bare.crest_y = {};
  CHECK(find_passages(bare).blocked == find_passages(land.view()).blocked);
  CHECK(find_passages(bare).walls.empty());
}

TEST_CASE("a relief that does not fit its grid, or is no number, is refused", "[passages]") {
  const auto refused = [](auto spoil) {
    Land land = rough_land(4, 3, 2, 1e-9, 0, 0);
    CHECK_NOTHROW(find_passages(land.view()));
    spoil(land);
    CHECK_THROWS_AS(find_passages(land.view()), std::invalid_argument);
  };
  refused([](Land& l) { l.elevation.pop_back(); });
  refused([](Land& l) { l.active.pop_back(); });
  refused([](Land& l) { l.crest_x.pop_back(); });
  refused([](Land& l) { l.crest_y.clear(); });
  refused([](Land& l) { l.elevation[5] = std::nan(""); });
  refused([](Land& l) { l.elevation[5] = std::numeric_limits<double>::infinity(); });
  refused([](Land& l) { l.open_faces.push_back({12, 0}); });
  refused([](Land& l) { l.open_faces.push_back({3, 4}); });
  refused([](Land& l) { l.active[0] = 0; }); // it has open faces
  Land land = rough_land(4, 3, 2, 1e-9, 0, 0);
  land.active[5] = 0;
  land.elevation[5] = std::nan(""); // where there is no ground
  CHECK_NOTHROW(find_passages(land.view()));
}
