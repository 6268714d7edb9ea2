#include <lowspot/site/cell_size.hpp>

#include "catch.hpp"

using namespace lowspot;
using namespace lowspot::site;

TEST_CASE("a yard gets the finest round cell that keeps it under the usual count") {
  const double foot = 0.3048;
  CHECK(default_cell({{0, 0}, {72 * foot, 54 * foot}}, "ft") == "6 in");
  CHECK(default_cell({{0, 0}, {100 * foot, 100 * foot}}, "ft") == "6 in"); // exactly 40 000 cells
  CHECK(default_cell({{0, 0}, {102 * foot, 102 * foot}}, "ft") == "9 in");
  CHECK(default_cell({{0, 0}, {30, 21}}, "m") == "0.15 m");
  CHECK(default_cell({{0, 0}, {200, 200}}, "m") == "1 m");
}

TEST_CASE("a somewhat larger cell is taken where it divides the sides and the finest does not") {
  const double foot = 0.3048;
  CHECK(default_cell({{0, 0}, {101 * foot, 100 * foot}}, "ft") == "1 ft");
  CHECK(default_cell({{0, 0}, {30, 5}}, "m") == "0.2 m"); // 0.16 m divides neither side
  CHECK(default_cell({{0, 0}, {20, 16}}, "m") == "0.16 m");
  CHECK(default_cell({{500000, 4000000}, {500004, 4000004}}, "m") == "0.16 m");
  CHECK(default_cell({{0, 0}, {63.7 * foot, 48.3 * foot}}, "ft") == "6 in"); // none does
  CHECK(default_cell({{0, 0}, {0.1, 0.1}}, "m") == "0.15 m");
}

TEST_CASE("cells are counted over the whole box, parts of cells as one") {
  CHECK(cells_in({{0, 0}, {1, 1}}, 0.1) == 100);
  CHECK(cells_in({{5, 5}, {6.05, 6}}, 0.1) == 110);
  CHECK(memory_for(4e6) > 1e9);
}
