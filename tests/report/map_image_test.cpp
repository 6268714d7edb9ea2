#include "catch.hpp"

#include <cmath>

#include <lowspot/report/map_image.hpp>

#include "report/sample_site.hpp"

using namespace lowspot;
using namespace lowspot::report;

TEST_CASE("between centres a plane is drawn as a plane") {
  const Grid grid{6, 5, 1, 0, 0};
  Field plane(grid.cells());
  for (std::size_t cell = 0; cell < grid.cells(); ++cell)
    plane[cell] = 2 * grid.x(grid.column(cell)) - 3 * grid.y(grid.row(cell));
  const Mask all(grid.cells(), 1);
  const int factor = 4;
  double worst = 0;
  for (int row = factor; row < (grid.ny - 1) * factor; ++row) // half a cell at the rim has no neighbour
    for (int column = factor; column < (grid.nx - 1) * factor; ++column) {
      const double x = (column + 0.5) / factor, y = grid.ny - (row + 0.5) / factor;
      worst =
          std::max(worst, std::abs(value_at_pixel(plane, all, grid, factor, column, row) - (2 * x - 3 * y)));
    }
  CHECK(worst < 1e-12);
}

TEST_CASE("cells outside the yard neither show nor bleed into their neighbours") {
  const Grid grid{2, 1, 1, 0, 0};
  const Mask active = {1, 0};
  const Field field = {1, 100};
  CHECK(value_at_pixel(field, active, grid, 4, 3, 2) == 1);
  CHECK(std::isnan(value_at_pixel(field, active, grid, 4, 5, 2)));
}

TEST_CASE("slopes to the light are bright, level ground is in between") {
  const Grid grid{5, 5, 1, 0, 0};
  const Mask all(grid.cells(), 1);
  Field level(grid.cells(), 3.0), north_west(grid.cells()), south_east(grid.cells());
  for (std::size_t cell = 0; cell < grid.cells(); ++cell) {
    north_west[cell] = 0.02 * (grid.column(cell) - grid.row(cell)); // falls to the north-west
    south_east[cell] = -north_west[cell];
  }
  CHECK(hillshade(level, all, grid)[12] == 0.5);
  CHECK(hillshade(north_west, all, grid)[12] > 0.6);
  CHECK(hillshade(south_east, all, grid)[12] < 0.4);
  CHECK(hillshade(north_west, all, grid)[0] == Approx(hillshade(north_west, all, grid)[12])); // no rim
}

TEST_CASE("water shows where it is deep enough, north at the top") {
  const auto all = sample::comparison();
  const Scale scale = depth_scale(all, units_for("ft"));
  const Image image = class_image(all.designs[0].max_depth, all.active, all.grid, scale);
  const int factor = pixels_per_cell(all.grid);
  REQUIRE(image.width == 60 * factor);
  const auto at = [&](int i, int j) {
    return image.pixels[static_cast<std::size_t>((39 - j) * factor + factor / 2) * image.width + i * factor +
                        factor / 2];
  };
  CHECK(at(24, 15) != 0);
  CHECK(at(55, 5) == 0);
  const Image ground = ground_image(all, sample::site(), all.elevation);
  CHECK(ground.pixels[0] != 0);
  // Under the house there is nothing to shade.
  CHECK(ground.pixels[static_cast<std::size_t>(factor) * image.width + 20 * factor] == 0);
}
