#include <lowspot/terrain/raster_ground.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/terrain/holes.hpp>
#include <lowspot/terrain/raster_doubts.hpp>

namespace lowspot::terrain {
namespace {

gis::RasterRequest request_for(const site::Site& site, const Grid& grid, double unit) {
  gis::RasterRequest request;
  // Beyond the yard by a tenth, so that a hole on its limit is hung on both its rims.
  const double margin = 0.1 * std::max(grid.nx, grid.ny) * grid.cell;
  request.window =
      Box{{(grid.x0 - margin) / unit, (grid.y0 - margin) / unit},
          {(grid.x0 + grid.nx * grid.cell + margin) / unit, (grid.y0 + grid.ny * grid.cell + margin) / unit}};
  request.crs = site.crs;
  return request;
}

// The raster over the yard and the metres in one unit of its coordinates.
std::pair<gis::Raster, double> read_over_yard(const site::Site& site, const Grid& grid,
                                              std::vector<std::string>& warnings) {
  const std::filesystem::path path = site.folder / site.ground.raster;
  try {
    gis::Raster raster = gis::read_raster(path, request_for(site, grid, site.unit));
    const double own = raster.metres_per_horizontal_unit;
    if (!std::isnan(own) && std::abs(own / site.unit - 1) > 1e-4)
      warnings.push_back(path.string() + ": its coordinate system counts in units of " + rounded(own, 6) +
                         " m and the site file in " + site.units + "; the numbers are taken in " +
                         site.units + ", in which they meet the yard.");
    return {std::move(raster), site.unit};
  } catch (const InputError& missed) {
    // Feet against metres is the one mistake that can be seen from here: try the raster's own unit.
    for (const double other : {1.0, 0.3048}) {
      if (std::abs(other / site.unit - 1) < 1e-4) continue;
      try {
        gis::Raster raster = gis::read_raster(path, request_for(site, grid, other));
        const double own = raster.metres_per_horizontal_unit;
        if (std::isnan(own) || std::abs(own / other - 1) > 1e-4) continue;
        warnings.push_back(path.string() + ": its coordinates are taken in the unit of its own system (" +
                           rounded(own, 6) + " m), in which it meets the yard; in " + site.units +
                           " it does not.");
        return {std::move(raster), own};
      } catch (const InputError&) {
      }
    }
    throw;
  }
}

double vertical_scale(const site::Site& site, const gis::Raster& raster,
                      std::vector<site::Assumption>& assumptions) {
  if (!std::isnan(site.ground.raster_unit)) return site.ground.raster_unit;
  if (!std::isnan(raster.metres_per_vertical_unit)) return raster.metres_per_vertical_unit;
  assumptions.push_back(
      {"ground.raster_units", site.units + " (neither the file nor the site says)", "default"});
  return site.unit;
}

// Shares of raster cells, along one axis, in the mean of what is bilinear between their centres.
struct MeanWeights {
  int first = 0;
  std::vector<double> shares;
};

// Over a length about a middle; level beyond the outermost centres. The mean of the cells whose centres lie
// within would be off on a slope by up to half of one of them.
MeanWeights mean_weights(double middle, double extent, double origin, double size, int count) {
  const double low = (middle - extent / 2 - origin) / size - 0.5, high = low + extent / size;
  const auto clamped = [&](double u) { return static_cast<int>(std::clamp(u, 0.0, count - 1.0)); };
  MeanWeights weights;
  weights.first = clamped(std::floor(low));
  const int last = clamped(std::ceil(high));
  weights.shares.assign(static_cast<std::size_t>(last - weights.first) + 1, 0);
  for (int k = weights.first; k < last; ++k) {
    const double from = std::clamp(low - k, 0.0, 1.0), to = std::clamp(high - k, 0.0, 1.0);
    const double upper = (to * to - from * from) / 2;
    weights.shares[static_cast<std::size_t>(k - weights.first)] += to - from - upper;
    weights.shares[static_cast<std::size_t>(k - weights.first) + 1] += upper;
  }
  weights.shares.front() += std::max(0.0, std::min(high, weights.first + 0.0) - low);
  weights.shares.back() += std::max(0.0, high - std::max(low, last + 0.0));
  for (double& share : weights.shares) share /= high - low;
  return weights;
}

} // namespace

HeightMap read_height_map(const site::Site& site, const Grid& grid, std::vector<std::string>& warnings,
                          std::vector<site::Assumption>& assumptions) {
  HeightMap map;
  double unit = 1;
  std::tie(map.raster, unit) = read_over_yard(site, grid, warnings);
  gis::Raster& raster = map.raster;
  warnings.insert(warnings.end(), raster.warnings.begin(), raster.warnings.end());
  const double scale = vertical_scale(site, raster, assumptions);
  raster.x0 *= unit;
  raster.y0 *= unit;
  raster.dx *= unit;
  raster.dy *= unit;
  map.hole.resize(raster.z.size());
  for (std::size_t c = 0; c < raster.z.size(); ++c) {
    raster.z[c] *= scale;
    map.hole[c] = std::isnan(raster.z[c]);
  }
  for (std::string& doubt : raster_doubts(site, raster)) warnings.push_back(std::move(doubt));
  fill_holes(raster.z, raster.nx, raster.ny);
  if (raster.z.empty() || std::isnan(raster.z[0]))
    throw InputError({(site.folder / site.ground.raster).string(), 0, ""}, "no data over the whole yard",
                     "heights over the yard", "check the coordinates of the outline");
  return map;
}

SampledHeight height_at(const HeightMap& map, const Point& at) {
  const gis::Raster& raster = map.raster;
  auto place = [](double value, double origin, double size, int count, bool& outside) {
    double u = (value - origin) / size - 0.5;
    if (std::abs(u - std::round(u)) < 1e-6) u = std::round(u); // on a centre but for rounding
    outside = outside || u < -0.5 - 1e-6 || u > count - 0.5 + 1e-6;
    return std::clamp(u, 0.0, count - 1.0);
  };
  SampledHeight height;
  const double u = place(at.x, raster.x0, raster.dx, raster.nx, height.outside);
  const double v = place(at.y, raster.y0, raster.dy, raster.ny, height.outside);
  const int i = std::min(static_cast<int>(u), std::max(0, raster.nx - 2));
  const int j = std::min(static_cast<int>(v), std::max(0, raster.ny - 2));
  const int east = std::min(i + 1, raster.nx - 1), north = std::min(j + 1, raster.ny - 1);
  const double a = u - i, b = v - j;
  const double south_z = (1 - a) * raster.at(i, j) + a * raster.at(east, j);
  const double north_z = (1 - a) * raster.at(i, north) + a * raster.at(east, north);
  height.z = (1 - b) * south_z + b * north_z;
  const int ni = static_cast<int>(std::lround(u)), nj = static_cast<int>(std::lround(v));
  height.from_hole = map.hole[static_cast<std::size_t>(nj) * raster.nx + ni];
  return height;
}

Field heights_on(const HeightMap& map, const Grid& grid, const Mask& active, Mask& outside,
                 std::vector<site::Assumption>& assumptions, std::vector<std::string>& warnings) {
  const gis::Raster& raster = map.raster;
  Field z(grid.cells());
  const bool average = grid.cell > 1.5 * std::max(raster.dx, raster.dy);
  const auto mean_over = [](const MeanWeights& across, const MeanWeights& up, const gis::Raster& of) {
    double sum = 0;
    for (std::size_t b = 0; b < up.shares.size(); ++b)
      for (std::size_t a = 0; a < across.shares.size(); ++a)
        sum += up.shares[b] * across.shares[a] *
               of.at(across.first + static_cast<int>(a), up.first + static_cast<int>(b));
    return sum;
  };
  std::size_t from_holes = 0, ground_cells = 0;
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i) {
      const std::size_t cell = grid.index(i, j);
      const SampledHeight height = height_at(map, {grid.x(i), grid.y(j)});
      z[cell] = height.z;
      outside[cell] = outside[cell] || height.outside;
      ground_cells += active[cell];
      from_holes += active[cell] && height.from_hole && !height.outside;
      if (!average) continue;
      z[cell] = mean_over(mean_weights(grid.x(i), grid.cell, raster.x0, raster.dx, raster.nx),
                          mean_weights(grid.y(j), grid.cell, raster.y0, raster.dy, raster.ny), raster);
    }
  if (from_holes > 0)
    assumptions.push_back({"ground.raster holes",
                           std::to_string(from_holes) + " cells (" +
                               rounded(static_cast<double>(from_holes) * grid.cell_area()) +
                               " m2) without data, interpolated across from the rims of the holes",
                           "default"});
  if (from_holes > ground_cells / 5)
    warnings.push_back(
        "The raster has no data over " +
        rounded(100.0 * static_cast<double>(from_holes) / static_cast<double>(ground_cells), 2) +
        " % of the ground; what lies there is interpolated across.");
  return z;
}

} // namespace lowspot::terrain
