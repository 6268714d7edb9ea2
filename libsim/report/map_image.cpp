#include <lowspot/report/map_image.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace lowspot::report {
namespace {

Lch cover_tint(const site::Site& site, int cover) {
  if (cover < 0 || cover >= static_cast<int>(site.areas.size())) return {0.935, 0.022, 130}; // lawn
  const site::Area& area = site.areas[static_cast<std::size_t>(cover)];
  if (area.impervious) return {0.925, 0.004, 250};
  if (area.plants) return {0.91, 0.028, 75};
  return {0.93, 0.014, 110};
}

// Slope across a cell [m/m], one-sided at the limits of the yard.
double slope_across(const Field& elevation, const Mask& active, const Grid& grid, int i, int j, int di,
                    int dj) {
  const auto there = [&](int a, int b) { return grid.inside(a, b) && active[grid.index(a, b)]; };
  const bool after = there(i + di, j + dj), before = there(i - di, j - dj);
  const double high = elevation[after ? grid.index(i + di, j + dj) : grid.index(i, j)];
  const double low = elevation[before ? grid.index(i - di, j - dj) : grid.index(i, j)];
  return after || before ? (high - low) / (grid.cell * (after + before)) : 0.0;
}

} // namespace

int pixels_per_cell(const Grid& grid) {
  return std::clamp(700 / std::max(grid.nx, grid.ny), 1, 10);
}

double value_at_pixel(const Field& field, const Mask& active, const Grid& grid, int factor, int column,
                      int row) {
  const double x = (column + 0.5) / factor,
               y = grid.ny - (row + 0.5) / factor; // in cells from the south-west
  const int own_i = static_cast<int>(x), own_j = static_cast<int>(y);
  if (!grid.inside(own_i, own_j) || !active[grid.index(own_i, own_j)])
    return std::numeric_limits<double>::quiet_NaN();
  const double u = x - 0.5, v = y - 0.5;
  const int i = static_cast<int>(std::floor(u)), j = static_cast<int>(std::floor(v));
  double sum = 0, weights = 0;
  for (int dj = 0; dj < 2; ++dj)
    for (int di = 0; di < 2; ++di) {
      if (!grid.inside(i + di, j + dj) || !active[grid.index(i + di, j + dj)]) continue;
      const double weight = (di ? u - i : 1 - (u - i)) * (dj ? v - j : 1 - (v - j));
      sum += weight * field[grid.index(i + di, j + dj)];
      weights += weight;
    }
  return weights > 0 ? sum / weights : field[grid.index(own_i, own_j)];
}

Field hillshade(const Field& elevation, const Mask& active, const Grid& grid) {
  Field slope_x(grid.cells(), 0.0), slope_y(grid.cells(), 0.0), shade(grid.cells(), 0.5);
  double sum = 0;
  std::size_t count = 0;
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i) {
      const std::size_t cell = grid.index(i, j);
      if (!active[cell]) continue;
      slope_x[cell] = slope_across(elevation, active, grid, i, j, 1, 0);
      slope_y[cell] = slope_across(elevation, active, grid, i, j, 0, 1);
      sum += slope_x[cell] * slope_x[cell] + slope_y[cell] * slope_y[cell];
      ++count;
    }
  // Yards are nearly flat: without exaggeration nothing would be seen.
  const double typical = count > 0 ? std::sqrt(sum / static_cast<double>(count)) : 0;
  const double exaggeration = typical > 0 ? std::clamp(0.35 / typical, 1.0, 40.0) : 1.0;
  const double light_x = -0.5, light_y = 0.5, light_z = std::sqrt(0.5);
  for (std::size_t cell = 0; cell < grid.cells(); ++cell) {
    const double nx = -exaggeration * slope_x[cell], ny = -exaggeration * slope_y[cell];
    const double facing = (nx * light_x + ny * light_y + light_z) / std::sqrt(nx * nx + ny * ny + 1);
    shade[cell] = std::clamp(0.5 + 0.5 * (facing - light_z) / (1 - light_z), 0.0, 1.0);
  }
  return shade;
}

Image ground_image(const results::Comparison& comparison, const site::Site& site, const Field& elevation) {
  const Grid& grid = comparison.grid;
  const int factor = pixels_per_cell(grid);
  Image image{grid.nx * factor, grid.ny * factor, {}};
  image.pixels.assign(static_cast<std::size_t>(image.width) * image.height, 0);
  const Field shade = hillshade(elevation, comparison.active, grid);
  for (int row = 0; row < image.height; ++row)
    for (int column = 0; column < image.width; ++column) {
      const double light = value_at_pixel(shade, comparison.active, grid, factor, column, row);
      if (!std::isfinite(light)) continue;
      const std::size_t cell = grid.index(column / factor, grid.ny - 1 - row / factor);
      Lch tint = cover_tint(site, comparison.cover.empty() ? -1 : comparison.cover[cell]);
      tint.lightness = std::min(0.99, tint.lightness + 0.14 * (light - 0.5));
      image.pixels[static_cast<std::size_t>(row) * image.width + column] = pixel(rgb(tint));
    }
  return image;
}

Image class_image(const Field& field, const Mask& active, const Grid& grid, const Scale& scale) {
  const int factor = pixels_per_cell(grid);
  Image image{grid.nx * factor, grid.ny * factor, {}};
  image.pixels.assign(static_cast<std::size_t>(image.width) * image.height, 0);
  for (int row = 0; row < image.height; ++row)
    for (int column = 0; column < image.width; ++column) {
      const double value = value_at_pixel(field, active, grid, factor, column, row);
      if (!std::isfinite(value)) continue;
      const int k = class_of(scale, value / scale.unit_si);
      if (k >= 0)
        image.pixels[static_cast<std::size_t>(row) * image.width + column] =
            pixel(scale.colors[static_cast<std::size_t>(k)], 0.95);
    }
  return image;
}

} // namespace lowspot::report
