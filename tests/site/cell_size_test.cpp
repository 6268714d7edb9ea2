#include <lowspot/site/cell_size.hpp>

#include "catch.hpp"

using namespace lowspot;
using namespace lowspot::site;

TEST_CASE("a yard gets the finest round cell that keeps it under the usual count") {
  const double foot = 0.3048;
  CHECK(default_cell({{0, 0}, {72 * foot, 54 * foot}}, "ft") == "6 in");
  CHECK(default_cell({{0, 0}, {100 * foot, 100 * foot}}, "ft") == "6 in"); // exactly 40 000 cells
  CHECK(default_cell({{0, 0}, {101 * foot, 100 * foot}}, "ft") == "9 in");
  CHECK(default_cell({{0, 0}, {30, 20}}, "m") == "0.15 m");
  CHECK(default_cell({{0, 0}, {200, 200}}, "m") == "1 m");
}

TEST_CASE("cells are counted over the whole box, parts of cells as one") {
  CHECK(cells_in({{0, 0}, {1, 1}}, 0.1) == 100);
  CHECK(cells_in({{5, 5}, {6.05, 6}}, 0.1) == 110);
  CHECK(memory_for(4e6) > 1e9);
}
